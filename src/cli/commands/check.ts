import { join } from "node:path";
import { UsageError } from "../../base/errors.ts";
import type { Findings } from "../../base/finding.ts";
import { numbered } from "../../base/words.ts";
import { describeFinding } from "../../cases/messages.ts";
import { examineExport } from "../../study/data-report/examine-export.ts";
import { descriptorPath, requireThere } from "../descriptor-path.ts";
import { EXIT } from "../exit-codes.ts";
import { progress } from "../progress.ts";
import { wrappedText } from "../wrapped-text.ts";
import { lacksDictionary, propose } from "./propose.ts";

export interface CheckOptions {
  readonly json: boolean;
  readonly propose?: string;
  /** Folder of the page. */
  readonly report?: string;
  readonly audience: string;
}

/** Reads an export, runs every rule, and prints what was found. A file without a dictionary gets a proposed one. */
export async function check(path: string, options: CheckOptions): Promise<number> {
  requireThere(path);
  if (lacksDictionary(path)) {
    if (options.report !== undefined) throw noDictionary(path);
    return propose(path, options);
  }
  const said = progress();
  said.step("reading the export");
  const { rows, findings } = await examine(descriptorPath(path), options);
  said.done("");
  if (options.json) {
    console.log(JSON.stringify({ rows, ...findings }, null, 2));
  } else {
    const width = process.stdout.columns;
    for (const group of findings.groups)
      console.log(wrappedText(`${group.severity}  ${describeFinding(group)}`, width));
    console.log(summary(rows, findings));
    if (options.report !== undefined) console.log(join(options.report, "index.html"));
  }
  return findings.errors > 0 ? EXIT.no : EXIT.ok;
}

async function examine(path: string, { report, audience }: CheckOptions) {
  if (report === undefined) {
    const { cases, findings } = await examineExport(path);
    return { rows: cases?.rows ?? 0, findings };
  }
  // Pages need the drawing libraries, which a check alone does not wait for.
  const { dataReport } = await import("../../study/data-report/data-report.ts");
  const { audienceNamed } = await import("../../study/making/make-report.ts");
  const { writeReport } = await import("../write-report.ts");
  const { files, ...found } = await dataReport(path, audienceNamed(audience));
  await writeReport(report, files, "--report");
  return found;
}

function noDictionary(path: string): UsageError {
  return new UsageError(
    "no-dictionary",
    `${path}: has no dictionary yet, so there is nothing to report against; write one with --propose first`,
  );
}

function summary(rows: number, { errors, warnings, notes }: Findings): string {
  const read = rows === 0 ? "The export could not be read as a table" : `${numbered(rows, "row")} read`;
  return `${read}: ${numbered(errors, "error")}, ${numbered(warnings, "warning")}, ${numbered(notes, "note")}.`;
}
