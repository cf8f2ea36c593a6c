import { existsSync, readFileSync } from "node:fs";
import { dirname } from "node:path";
import type { z } from "zod";
import { contentHash } from "../base/content-hash.ts";
import { UsageError } from "../base/errors.ts";
import { CAPTURES, descriptorSchema, type ExportDescriptor } from "./descriptor.ts";
import { type DescriptorProblem, descriptorProblems } from "./descriptor-rules.ts";
import { placeInDictionary } from "./place-in-dictionary.ts";
import { OPEN } from "./proposal/type-guess.ts";
import { RECORDED_STATES } from "./recorded-state.ts";

export interface LoadedDescriptor {
  readonly descriptor: ExportDescriptor;
  /** As it was given. */
  readonly path: string;
  /** Folder of the descriptor: paths of resources start here. */
  readonly folder: string;
  /** SHA-256 of the descriptor's bytes. */
  readonly hash: string;
}

/**
 * The dictionary of an export, checked so far that reading can rely on it.
 *
 * Every problem is collected and named by its field or its place in the file, then one UsageError
 * (`descriptor-invalid`) lists them all. Unknown keys are free as in the open standard, except in the
 * `study` block and in what a field, category or constraint lets us act on.
 */
export function loadDescriptor(path: string): LoadedDescriptor {
  const bytes = readDescriptor(path);
  const json = parseJson(bytes, path);
  const open = openPlaces(json, []);
  if (open.length > 0) throw invalid(path, json, open);
  const parsed = descriptorSchema.safeParse(json);
  if (!parsed.success) throw invalid(path, json, parsed.error.issues.map(problemOfIssue));
  const problems = descriptorProblems(parsed.data);
  if (problems.length > 0) throw invalid(path, json, problems);
  return { descriptor: parsed.data, path, folder: dirname(path), hash: contentHash(bytes) };
}

/** Keys under which a question mark may be a word that stands in cells. */
const WORDS_OF_THE_FILE: readonly string[] = ["value", "missingValues"];

/** Every place where a proposed dictionary left a decision to a person. */
function openPlaces(value: unknown, path: readonly PropertyKey[]): DescriptorProblem[] {
  if (value === OPEN) return [{ path, text: `still open ("?"); write ${acceptedAt(path.at(-1))}` }];
  if (Array.isArray(value)) return value.flatMap((each, at) => openPlaces(each, [...path, at]));
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([key, each]) =>
    WORDS_OF_THE_FILE.includes(key) ? [] : openPlaces(each, [...path, key]),
  );
}

/** What may stand in place of a question mark. */
const ACCEPTED: Readonly<Record<string, string>> = {
  state: `what the word means: ${RECORDED_STATES.join(", ")}`,
  outcome: 'what ended follow-up, or "censored"',
  invented: 'true where no row describes a real person (then add "stamp"), else false',
  revisionCapture: `where revisions are seen: ${CAPTURES.join(", ")}`,
  deathCapture: `where deaths are seen: ${CAPTURES.join(", ")}`,
  cementedKnees: "true or false",
  dataCut: "the last day that the export covers, as 2024-12-31",
  format: 'the order of day and month, such as "%d.%m.%Y"',
  unit: "d, mo or a (days, months, years)",
  serialDates: "the year that serial numbers count from: 1900 or 1904",
};

function acceptedAt(key: PropertyKey | undefined): string {
  return ACCEPTED[String(key)] ?? "what is true of the export";
}

function readDescriptor(path: string): Uint8Array {
  if (!existsSync(path)) {
    throw new UsageError(
      "descriptor-not-found",
      `${path}: is not there; check the path (a dictionary is a file such as datapackage.json beside the table)`,
    );
  }
  if (!path.endsWith(".json")) {
    throw new UsageError(
      "no-descriptor",
      `${path}: is not a dictionary; write a datapackage.json beside the case file that says what each field means, ` +
        "and give that (data/demo/datapackage.json is an example)",
    );
  }
  try {
    return readFileSync(path);
  } catch {
    throw new UsageError(
      "descriptor-not-found",
      `${path}: the dictionary cannot be opened; check that you may read it`,
    );
  }
}

function parseJson(bytes: Uint8Array, path: string): unknown {
  try {
    // A byte order mark is dropped by the decoder; anything that is not UTF-8 is refused.
    return JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  } catch {
    throw new UsageError(
      "descriptor-not-json",
      `${path}: the descriptor is not JSON in UTF-8; look for a missing comma, quote or closing brace`,
    );
  }
}

function invalid(path: string, json: unknown, problems: readonly DescriptorProblem[]): UsageError {
  const lines = problems.map((problem) => `${placeInDictionary(problem.path, json)}: ${problem.text}`);
  return new UsageError(
    "descriptor-invalid",
    [`${path}: the descriptor cannot be used:`, ...lines].join("\n  "),
  );
}

export function problemOfIssue(issue: z.core.$ZodIssue): DescriptorProblem {
  return { path: issue.path, text: textOfIssue(issue) };
}

function textOfIssue(issue: z.core.$ZodIssue): string {
  if (issue.code === "unrecognized_keys") {
    const keys = issue.keys.map((key) => `"${key}"`).join(", ");
    return `unknown key ${keys}; correct the spelling or take it out`;
  }
  if (issue.code === "invalid_value") {
    return `unknown value; accepted: ${issue.values.map(String).join(", ")}`;
  }
  if (issue.code === "invalid_type") {
    // Zod says "received undefined" for a key that is not there; a person says it is missing.
    return issue.message.endsWith("received undefined")
      ? `missing; expected ${issue.expected}`
      : `wrong type; expected ${issue.expected}`;
  }
  return issue.message;
}
