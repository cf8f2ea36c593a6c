import type { Findings } from "../../base/finding.ts";
import { joinFindings } from "../../base/finding-log.ts";
import type { Cases } from "../../cases/cases.ts";
import { checkCases } from "../../cases/check-cases.ts";
import { ExportError } from "../../cases/export-error.ts";
import { readCases } from "../../cases/read-cases.ts";
import {
  reportSmallCombinations,
  type SmallCombinations,
  smallCombinations,
} from "../../cases/small-combinations.ts";

/** An export as far as it could be read, and everything that was found in it. */
export type ExaminedExport =
  | { readonly cases: Cases; readonly combinations: SmallCombinations; readonly findings: Findings }
  /** The file is no sound table. */
  | { readonly cases?: never; readonly findings: Findings };

/** Reads an export and runs every rule. A file that cannot be read as a table still says everything found in it. */
export async function examineExport(descriptorPath: string): Promise<ExaminedExport> {
  try {
    const cases = await readCases(descriptorPath);
    const combinations = smallCombinations(cases);
    return {
      cases,
      combinations,
      findings: joinFindings(cases.findings, checkCases(cases), reportSmallCombinations(combinations)),
    };
  } catch (error) {
    if (error instanceof ExportError) return { findings: error.findings };
    throw error;
  }
}
