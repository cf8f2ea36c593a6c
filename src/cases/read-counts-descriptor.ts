import { readFileSync } from "node:fs";
import { basename, dirname } from "node:path";
import { z } from "zod";
import { contentHash } from "../base/content-hash.ts";
import { dayNumber } from "../base/day-number.ts";
import { UsageError } from "../base/errors.ts";
import { CAPTURES } from "./descriptor.ts";
import type { DescriptorProblem } from "./descriptor-rules.ts";
import { problemOfIssue } from "./load-descriptor.ts";
import { positionText } from "./place-in-dictionary.ts";

/** Columns of every counts file; one column per cause comes beside them, named in the descriptor. */
export const COUNTS_COLUMNS = ["group", "stratum", "time", "at_risk", "censored", "entered"] as const;

const text = z.string().min(1);
const words = z.strictObject({ one: text, many: text });

/** What stands in `counts.json`: everything about the counts that the counts do not say themselves. */
export const countsDescriptorSchema = z.strictObject({
  kind: z.literal("counts by time"),
  /** Whose counts, in words: they stand in the report. */
  title: text,
  /** What the units were counted from and with what: database, engine, query. */
  source: text,
  /** The CSV file, in the folder of this one. */
  file: text,
  timeUnit: z.enum(["day", "month", "year"]),
  /** In the order of the endpoint. Exactly one is the event asked about. */
  causes: z
    .array(
      z.strictObject({
        label: text,
        column: text,
        event: z.boolean().default(false),
        death: z.boolean().default(false),
      }),
    )
    .min(1),
  /** What the groups are: "Tourniquet used". */
  exposure: text,
  groups: z.array(z.strictObject({ label: text, cases: z.int().min(0) })).min(1),
  /** Present where the file has a column "stratum". */
  strata: z.array(text).min(1).optional(),
  unit: words,
  /** The most units that one person can own: 2 for knees. Disclosure control reckons with the fewest persons. */
  mostPerPerson: z.int().min(1),
  eventWords: words,
  revisionMeans: text.optional(),
  revisionCapture: z.enum(CAPTURES),
  deathCapture: z.enum(CAPTURES),
  dataCut: text.optional(),
  invented: z.boolean(),
  stamp: text.optional(),
});

export type CountsDescriptor = z.output<typeof countsDescriptorSchema>;

export interface LoadedCountsDescriptor {
  readonly descriptor: CountsDescriptor;
  readonly folder: string;
  /** SHA-256 of the descriptor's bytes. */
  readonly hash: string;
}

/**
 * The descriptor of a counts file, checked so far that reading can rely on it.
 *
 * @throws UsageError with every problem, each named by its path in the file.
 */
export function loadCountsDescriptor(path: string): LoadedCountsDescriptor {
  const bytes = bytesOf(path);
  const parsed = countsDescriptorSchema.safeParse(jsonOf(bytes, path));
  if (!parsed.success) throw invalid(path, parsed.error.issues.map(problemOfIssue));
  const problems = countsDescriptorProblems(parsed.data);
  if (problems.length > 0) throw invalid(path, problems);
  return { descriptor: parsed.data, folder: dirname(path), hash: contentHash(bytes) };
}

/** What keys and types cannot say. */
function countsDescriptorProblems(descriptor: CountsDescriptor): DescriptorProblem[] {
  const { file, causes, groups, strata = [], invented, stamp, dataCut } = descriptor;
  const problems: DescriptorProblem[] = [];
  const add = (path: readonly PropertyKey[], sentence: string) => problems.push({ path, text: sentence });
  if (file !== basename(file) || file.includes("\\")) {
    add(["file"], "must lie in the descriptor's own folder; write its name alone");
  }
  const events = causes.filter(({ event }) => event).length;
  if (events !== 1)
    add(["causes"], `${events} causes have "event": true; exactly one is the event asked about`);
  const reserved: readonly string[] = COUNTS_COLUMNS;
  causes.forEach(({ column }, at) => {
    if (reserved.includes(column))
      add(["causes", at, "column"], "is the name of another column; choose one of its own");
  });
  for (const at of repeated(causes.map(({ label }) => label)))
    add(["causes", at, "label"], "stands there twice");
  for (const at of repeated(causes.map(({ column }) => column)))
    add(["causes", at, "column"], "stands there twice");
  for (const at of repeated(groups.map(({ label }) => label)))
    add(["groups", at, "label"], "stands there twice");
  for (const at of repeated(strata)) add(["strata", at], "stands there twice");
  if (invented && stamp === undefined) {
    add(["stamp"], "missing; invented data need the text that is stamped on every page");
  }
  if (dataCut !== undefined && dayNumber(dataCut) === undefined) {
    add(["dataCut"], "not a calendar date; write it as 2024-12-31");
  }
  return problems;
}

/** Places of the labels that stood before. */
function repeated(labels: readonly string[]): number[] {
  return labels.flatMap((label, at) => (labels.indexOf(label) < at ? [at] : []));
}

function bytesOf(path: string): Uint8Array {
  try {
    return readFileSync(path);
  } catch {
    throw new UsageError(
      "counts-not-found",
      `${path}: cannot be opened; give a counts.json or the folder that holds it`,
    );
  }
}

function jsonOf(bytes: Uint8Array, path: string): unknown {
  try {
    return JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  } catch {
    throw new UsageError(
      "counts-descriptor-not-json",
      `${path}: is not JSON in UTF-8; look for a missing comma, quote or closing brace`,
    );
  }
}

function invalid(path: string, problems: readonly DescriptorProblem[]): UsageError {
  const lines = problems.map((problem) => `${positionText(problem.path)}: ${problem.text}`);
  return new UsageError("counts-descriptor-invalid", [`${path}: cannot be used:`, ...lines].join("\n  "));
}
