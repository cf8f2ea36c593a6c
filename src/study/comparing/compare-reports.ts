import { canonicalJson, contentHash } from "../../base/content-hash.ts";
import { UsageError } from "../../base/errors.ts";
import { resultsRecord } from "../making/results-record.ts";
import type { ReportDifference, ResultsRecord } from "./difference.ts";
import { exhibitDifferences } from "./exhibit-differences.ts";
import { inputDifferences } from "./input-differences.ts";

/** Files of a report folder: path → content. */
export type ReportFolder = ReadonlyMap<string, Uint8Array>;

const RESULTS = "results.json";

/**
 * What differs between two report folders, in words: what went in, then which tables and figures moved, then files.
 *
 * Two reports without a difference have the same bytes in every file. A number that either report hides is not told.
 *
 * @throws UsageError where the results differ and those of one report cannot be read.
 *
 * @example
 * const report = (text: string) => new Map([["tables/rates.csv", new TextEncoder().encode(text)]]);
 * compareReports(report("1.2"), report("1.3")); // "files", "tables/rates.csv", "other bytes"
 */
export function compareReports(first: ReportFolder, second: ReportFolder): readonly ReportDifference[] {
  const files = fileDifferences(first, second);
  const [one, two] = [first.get(RESULTS), second.get(RESULTS)];
  if (one === undefined || two === undefined || contentHash(one) === contentHash(two)) return files;
  return [...resultDifferences(resultsIn(one, "first"), resultsIn(two, "second")), ...files];
}

function fileDifferences(first: ReportFolder, second: ReportFolder): ReportDifference[] {
  const paths = [...new Set([...first.keys(), ...second.keys()])].sort();
  return paths.flatMap((path) => {
    const [one, two] = [first.get(path), second.get(path)];
    const file = (what: string) => [{ part: "files" as const, about: path, what }];
    if (one === undefined) return file("only in the second");
    if (two === undefined) return file("only in the first");
    return contentHash(one) === contentHash(two) ? [] : file("other bytes");
  });
}

function resultDifferences(one: ResultsRecord, two: ResultsRecord): ReportDifference[] {
  const found = [...inputDifferences(one, two), ...exhibitDifferences(one, two)];
  if (found.length > 0) return found;
  const what =
    canonicalJson(one) === canonicalJson(two)
      ? "same values, other layout"
      : "differs in what no table or figure shows";
  return [{ part: "what came out", about: RESULTS, what }];
}

function resultsIn(bytes: Uint8Array, which: string): ResultsRecord {
  const results = resultsRecord(new TextDecoder().decode(bytes));
  if (results !== undefined) return results;
  throw new UsageError(
    "no-results",
    `results.json of the ${which} report: holds no results that can be read; write that report again`,
  );
}
