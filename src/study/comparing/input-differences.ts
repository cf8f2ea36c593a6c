import { canonicalJson } from "../../base/content-hash.ts";
import { isRecord } from "../../base/is-record.ts";
import { planChanges } from "../locking/plan-changes.ts";
import type { ReportDifference, ResultsRecord } from "./difference.ts";

/** What a results.json states by a word or two. */
const STATED = {
  mantle: "Version of Mantle",
  id: "Folder name",
  title: "Title",
  subtitle: "Subtitle",
  stamp: "Stamp",
  question: "Question",
  audience: "Audience",
  threshold: "Counts hidden below",
} as const;

/** Files that went in, by the name of their hash. */
const HASHED = {
  export: "Export",
  descriptor: "Dictionary of the export",
  lock: "Lock file of the packages",
} as const;

/** What differs between the inputs of two reports: versions, files, plan, audience, settings. */
export function inputDifferences(one: ResultsRecord, two: ResultsRecord): readonly ReportDifference[] {
  return [
    ...Object.entries(STATED).flatMap(([key, about]) => stated(about, one[key], two[key])),
    ...Object.entries(HASHED).flatMap(([key, about]) => hashed(about, hashOf(one, key), hashOf(two, key))),
    ...planDifferences(one, two),
    ...importedDifferences(one.imported, two.imported),
    ...lockDifference(one.planLock, two.planLock),
    ...stated("Reports that the readers hold", heldWords(one.readersHold), heldWords(two.readersHold)),
    ...settingDifferences(one, two),
    ...changes("Sources", { sources: one.sources }, { sources: two.sources }),
  ];
}

function stated(about: string, one: unknown, two: unknown): ReportDifference[] {
  if (one === two) return [];
  const [first, second] = [one, two].map((value) => (value === undefined ? "not stated" : String(value)));
  return input(about, `${first} → ${second}`);
}

function hashed(about: string, one: unknown, two: unknown): ReportDifference[] {
  if (one === two) return [];
  const [first, second] = [one, two].map((value) =>
    typeof value === "string" ? `SHA-256 ${value.slice(0, 12)}…` : "not stated",
  );
  return input(about, `another file (${first} → ${second})`);
}

/** The plan in words where both reports hold it; else that it, or the text around it, is another. */
function planDifferences(one: ResultsRecord, two: ResultsRecord): ReportDifference[] {
  const known = isRecord(one.plan) && isRecord(two.plan);
  const unlike = hashOf(one, "plan") === hashOf(two, "plan") ? [] : input("Plan", "not the same");
  const found = known ? changes("Plan", one.plan, two.plan) : unlike;
  const [first, second] = [hashOf(one, "notebook"), hashOf(two, "notebook")];
  if (!known || found.length > 0 || first === second) return [...found, ...hashed("Notebook", first, second)];
  return input("Notebook", "other text around the same plan: comments, layout or sections of its own");
}

/** Files that the notebooks import, one by one. Reports of earlier versions do not say which there were. */
function importedDifferences(one: unknown, two: unknown): ReportDifference[] {
  const [first, second] = [importedHashes(one), importedHashes(two)];
  if (first === undefined && second === undefined) return [];
  if (first === undefined || second === undefined)
    return input(
      "Files that the notebook imports",
      `hashed in the ${first === undefined ? "second" : "first"} alone`,
    );
  const names = [...new Set([...first.keys(), ...second.keys()])].sort();
  return names.flatMap((name) => hashed(`Imported file ${name}`, first.get(name), second.get(name)));
}

function importedHashes(imported: unknown): ReadonlyMap<string, unknown> | undefined {
  if (!Array.isArray(imported)) return undefined;
  return new Map(imported.filter(isRecord).map(({ file, hash }) => [String(file), hash]));
}

/** Named in an order that counts: of several, the last gives its numbers again. */
function heldWords(held: unknown): string {
  if (!Array.isArray(held) || held.length === 0) return "none named";
  return held
    .filter(isRecord)
    .map(({ id, hash }) => `${String(id)} (${String(hash).slice(0, 12)}…)`)
    .join(", ");
}

function lockDifference(one: unknown, two: unknown): ReportDifference[] {
  const [first, second] = [one, two].map((lock) => (isRecord(lock) ? lock.state : undefined));
  if (first !== second) return stated("Lock of the plan", first, second);
  return canonicalJson({ lock: one }) === canonicalJson({ lock: two })
    ? []
    : input("Lock of the plan", "another lock, or other changes since");
}

/** What the run settled by itself. Keys that the plans have were told with them. */
function settingDifferences(one: ResultsRecord, two: ResultsRecord): ReportDifference[] {
  const [first, second] = [settingsOf(one), settingsOf(two)];
  const told = isRecord(one.plan) && isRecord(two.plan) ? Object.keys({ ...one.plan, ...two.plan }) : [];
  const keys = Object.keys({ ...first, ...second }).filter(
    (key) => key === "clusters" || !told.includes(key),
  );
  return keys.flatMap((key) => {
    const [before, after] = [first[key], second[key]];
    if (key === "clusters" && isRecord(before) && isRecord(after)) return clusterDifferences(before, after);
    return changes("Settings", { [key]: before }, { [key]: after });
  });
}

function settingsOf({ settings }: ResultsRecord): ResultsRecord {
  return isRecord(settings) ? settings : {};
}

/** How many clusters there are is told by some reports and kept back by others. */
function clusterDifferences(one: ResultsRecord, two: ResultsRecord): ReportDifference[] {
  const both = Object.keys(one).filter((key) => key in two);
  const of = (clusters: ResultsRecord) => Object.fromEntries(both.map((key) => [key, clusters[key]]));
  return changes("Settings", { clusters: of(one) }, { clusters: of(two) });
}

function changes(about: string, one: unknown, two: unknown): ReportDifference[] {
  return planChanges(one, two).flatMap((what) => input(about, what));
}

function input(about: string, what: string): ReportDifference[] {
  return [{ part: "what went in", about, what }];
}

function hashOf(results: ResultsRecord, key: string): unknown {
  return isRecord(results.hashes) ? results.hashes[key] : undefined;
}
