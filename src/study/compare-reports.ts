import { contentHash } from "../base/content-hash.ts";
import { UsageError } from "../base/errors.ts";
import { resultsRecord } from "./results-record.ts";

/** One way in which two reports are not the same. */
export interface ReportDifference {
  readonly path: string;
  readonly what: string;
}

/** Files of a report folder: path → content. */
export type ReportFolder = ReadonlyMap<string, Uint8Array>;

/**
 * What differs between two report folders, in words: inputs first, then numbers by exhibit, then other files.
 *
 * Two reports without a difference have the same bytes in every file.
 *
 * @throws UsageError where the results differ and those of one report cannot be read.
 */
export function compareReports(first: ReportFolder, second: ReportFolder): readonly ReportDifference[] {
  const paths = [...new Set([...first.keys(), ...second.keys()])].sort();
  return paths.flatMap((path) => {
    const [one, two] = [first.get(path), second.get(path)];
    if (one === undefined) return [{ path, what: "only in the second" }];
    if (two === undefined) return [{ path, what: "only in the first" }];
    if (contentHash(one) === contentHash(two)) return [];
    return path === "results.json" ? resultDifferences(one, two) : [{ path, what: "content differs" }];
  });
}

function resultDifferences(one: Uint8Array, two: Uint8Array): ReportDifference[] {
  const found: ReportDifference[] = [];
  walk(resultsIn(one, "first"), resultsIn(two, "second"), "", found);
  return found.length > 0 ? found : [{ path: "results.json", what: "same values, other layout" }];
}

function resultsIn(bytes: Uint8Array, which: string): unknown {
  const results = resultsRecord(new TextDecoder().decode(bytes));
  if (results !== undefined) return results;
  throw new UsageError(
    "no-results",
    `results.json of the ${which} report: holds no results that can be read; write that report again`,
  );
}

function walk(one: unknown, two: unknown, at: string, found: ReportDifference[]): void {
  if (isRecord(one) && isRecord(two)) {
    for (const key of [...new Set([...Object.keys(one), ...Object.keys(two)])]) {
      walk(one[key], two[key], `${at}/${key}`, found);
    }
    return;
  }
  if (JSON.stringify(one) === JSON.stringify(two)) return;
  found.push({ path: `results.json${at}`, what: `${shown(one)} in the first, ${shown(two)} in the second` });
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null;
}

function shown(value: unknown): string {
  if (value === undefined) return "absent";
  const json = JSON.stringify(value);
  return json.length > 60 ? `${json.slice(0, 57)}…` : json;
}
