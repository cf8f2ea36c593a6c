import { canonicalJson } from "../../base/content-hash.ts";
import { isRecord } from "../../base/is-record.ts";
import type { ReportDifference, ResultsRecord } from "./difference.ts";
import { type Drawn, type Entry, exhibitEntries } from "./exhibit-entries.ts";

const KINDS: Readonly<Record<string, string>> = {
  table: "Table",
  curves: "Curves",
  flow: "Flow",
  lines: "Lines",
};

/** Which tables and figures of two reports moved, and where: first → second. Hidden numbers stay hidden. */
export function exhibitDifferences(one: ResultsRecord, two: ResultsRecord): readonly ReportDifference[] {
  const [first, second] = [byId(one), byId(two)];
  const sameReaders = one.audience === two.audience;
  return [...new Set([...first.keys(), ...second.keys()])].flatMap((id) => {
    const [before, after] = [first.get(id), second.get(id)];
    const about = nameOf(before ?? after, id);
    const lines =
      before === undefined || after === undefined
        ? [onlyIn(before === undefined)]
        : changesOf(before, after, sameReaders);
    return lines.map((what) => ({ part: "what came out" as const, about, what }));
  });
}

function byId(results: ResultsRecord): ReadonlyMap<string, ResultsRecord> {
  const all = Array.isArray(results.exhibits) ? results.exhibits.filter(isRecord) : [];
  return new Map(all.map((exhibit) => [String(exhibit.id), exhibit]));
}

function nameOf(exhibit: ResultsRecord | undefined, id: string): string {
  const kind = KINDS[String(exhibit?.kind)] ?? "Exhibit";
  return `${kind} “${typeof exhibit?.title === "string" ? exhibit.title : id}”`;
}

function changesOf(one: ResultsRecord, two: ResultsRecord, sameReaders: boolean): string[] {
  if (canonicalJson(one) === canonicalJson(two)) return [];
  const [before, after] = [exhibitEntries(one), exhibitEntries(two)];
  const moved =
    before === undefined || after === undefined
      ? []
      : [
          ...rowChanges(before.entries, after.entries, sameReaders),
          ...drawnChanges(before.drawn, after.drawn),
        ];
  const around = [
    ...(one.title === two.title ? [] : [`title: “${String(one.title)}” → “${String(two.title)}”`]),
    ...(canonicalJson(one.settings) === canonicalJson(two.settings) ? [] : ["method or settings differ"]),
    ...(canonicalJson(one.notes) === canonicalJson(two.notes) ? [] : ["notes beneath differ"]),
  ];
  const found = [...moved, ...around];
  return found.length > 0 ? found : ["arranged otherwise, or in digits that are not printed"];
}

/** A row that only one report has is named once, not once a column. */
function rowChanges(one: readonly Entry[], two: readonly Entry[], sameReaders: boolean): string[] {
  const [first, second] = [rowsOf(one), rowsOf(two)];
  return [...new Set([...first.keys(), ...second.keys()])].flatMap((row) => {
    const [before, after] = [first.get(row), second.get(row)];
    if (before === undefined || after === undefined) return [`“${row}”: ${onlyIn(before === undefined)}`];
    return cellChanges(row, before, after, sameReaders);
  });
}

/** Rows of one name are told apart by their order. */
function rowsOf(entries: readonly Entry[]): ReadonlyMap<string, ReadonlyMap<string, Entry>> {
  const rows = new Map<string, Map<string, Entry>>();
  for (const entry of entries) {
    let name = entry.row;
    for (let again = 2; rows.get(name)?.has(entry.column); again += 1) name = `${entry.row} (${again})`;
    const row = rows.get(name) ?? new Map<string, Entry>();
    rows.set(name, row.set(entry.column, entry));
  }
  return rows;
}

function cellChanges(
  row: string,
  one: ReadonlyMap<string, Entry>,
  two: ReadonlyMap<string, Entry>,
  sameReaders: boolean,
): string[] {
  return [...new Set([...one.keys(), ...two.keys()])].flatMap((column) => {
    const [before, after] = [one.get(column), two.get(column)];
    const place = column === "" ? `“${row}”` : `“${row}”, “${column}”`;
    if (before === undefined || after === undefined) return [`${place}: ${onlyIn(before === undefined)}`];
    const what = cellChange(before, after, sameReaders);
    return what === undefined ? [] : [`${place}: ${what}`];
  });
}

/** What one report hides is not told from the other: the two together must show no more than each alone. */
function cellChange(one: Entry, two: Entry, sameReaders: boolean): string | undefined {
  if (one.hidden && two.hidden) return undefined;
  if (one.hidden || two.hidden) return `hidden in the ${one.hidden ? "first" : "second"} alone`;
  if (one.text !== two.text) return `${shown(one)} → ${shown(two)}`;
  // Analysts' copies carry more digits than they print; other readers' do not.
  const same = !sameReaders || canonicalJson(one.values) === canonicalJson(two.values);
  return same ? undefined : `${one.text} in both, but not in the digits that are not printed`;
}

function shown({ text }: Entry): string {
  return text === "" ? "blank" : text;
}

function drawnChanges(one: readonly Drawn[], two: readonly Drawn[]): string[] {
  const [first, second] = [linesOf(one), linesOf(two)];
  return [...new Set([...first.keys(), ...second.keys()])].flatMap((label) => {
    const [before, after] = [first.get(label), second.get(label)];
    if (before === undefined || after === undefined) {
      return [`line of “${label}”: ${onlyIn(before === undefined)}`];
    }
    const length = Math.max(before.points.length, after.points.length);
    const at = Array.from({ length }, (_, place) => place).find(
      (place) => canonicalJson(before.points[place] ?? null) !== canonicalJson(after.points[place] ?? null),
    );
    if (at === undefined) return [];
    const from = Math.min(
      before.points[at]?.at ?? Number.POSITIVE_INFINITY,
      after.points[at]?.at ?? Number.POSITIVE_INFINITY,
    );
    return [`line of “${label}”: another from ${before.along.toLowerCase()} ${from} on`];
  });
}

/** Lines of one label are told apart by their order. */
function linesOf(drawn: readonly Drawn[]): ReadonlyMap<string, Drawn> {
  const lines = new Map<string, Drawn>();
  for (const line of drawn) {
    let name = line.label;
    for (let again = 2; lines.has(name); again += 1) name = `${line.label} (${again})`;
    lines.set(name, line);
  }
  return lines;
}

function onlyIn(second: boolean): string {
  return `only in the ${second ? "second" : "first"}`;
}
