import type { Findings } from "../../base/finding.ts";
import { joinFindings } from "../../base/finding-log.ts";
import type { Cases } from "../../cases/cases.ts";
import { checkCases } from "../../cases/check-cases.ts";
import { ExportError } from "../../cases/export-error.ts";
import { readCases } from "../../cases/read-cases.ts";
import { reportSmallCombinations } from "../../cases/small-combinations.ts";

/** An export as far as it could be read, and everything that was found in it. */
export interface ExaminedExport {
  /** Undefined where the file is no sound table. */
  readonly cases?: Cases;
  readonly findings: Findings;
}

/** Reads an export and runs every rule. A file that cannot be read as a table still says everything found in it. */
export async function examineExport(descriptorPath: string): Promise<ExaminedExport> {
  try {
    const cases = await readCases(descriptorPath);
    return {
      cases,
      findings: joinFindings(cases.findings, checkCases(cases), reportSmallCombinations(cases)),
    };
  } catch (error) {
    if (error instanceof ExportError) return { findings: error.findings };
    throw error;
  }
}
