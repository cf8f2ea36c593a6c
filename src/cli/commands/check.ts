import { statSync } from "node:fs";
import { join } from "node:path";
import type { Findings } from "../../base/finding.ts";
import { joinFindings } from "../../base/finding-log.ts";
import { checkCases } from "../../cases/check-cases.ts";
import { ExportError } from "../../cases/export-error.ts";
import { describeFinding } from "../../cases/messages.ts";
import { readCases } from "../../cases/read-cases.ts";
import { reportSmallCombinations } from "../../cases/small-combinations.ts";
import { EXIT } from "../exit-codes.ts";
import { progress } from "../progress.ts";
import { lacksDictionary, propose } from "./propose.ts";

/** Reads an export, runs every rule, and prints what was found. A file without a dictionary gets a proposed one. */
export async function check(path: string, options: { json: boolean; propose?: string }): Promise<number> {
  if (lacksDictionary(path)) return propose(path, options);
  const said = progress();
  said.step("reading the export");
  const { rows, findings } = await examine(descriptorPath(path));
  said.done("");
  if (options.json) {
    console.log(JSON.stringify({ rows, ...findings }, null, 2));
  } else {
    for (const group of findings.groups) console.log(`${group.severity}  ${describeFinding(group)}`);
    console.log(summary(rows, findings));
  }
  return findings.errors > 0 ? EXIT.no : EXIT.ok;
}

async function examine(path: string): Promise<{ rows: number; findings: Findings }> {
  try {
    const cases = await readCases(path);
    const findings = joinFindings(cases.findings, checkCases(cases), reportSmallCombinations(cases));
    return { rows: cases.rows, findings };
  } catch (error) {
    // A file that cannot be read as a table still says everything that was found in it.
    if (error instanceof ExportError) return { rows: 0, findings: error.findings };
    throw error;
  }
}

function descriptorPath(path: string): string {
  return statSync(path, { throwIfNoEntry: false })?.isDirectory() ? join(path, "datapackage.json") : path;
}

function summary(rows: number, { errors, warnings, notes }: Findings): string {
  const read = rows === 0 ? "The export could not be read as a table" : `${rows} rows read`;
  return `${read}: ${errors} errors, ${warnings} warnings, ${notes} notes.`;
}
