import { basename } from "node:path";
import type { Findings } from "../../base/finding.ts";
import { loadDescriptor } from "../../cases/load-descriptor.ts";
import type { Audience } from "../../disclosure/audience.ts";
import { disclose } from "../../disclosure/disclose.ts";
import type { ReportFiles } from "../making/report-files.ts";
import { dataReportFiles } from "./data-report-files.ts";
import { examineExport } from "./examine-export.ts";
import { gatherDataReport } from "./gather-data-report.ts";

/**
 * What the checks of an export found, as a page for a committee: findings, completeness, follow-up, reasons, linkage.
 *
 * It is written whatever is wrong with the export, because it is how the supplier is told. Nothing on it points at a row.
 */
export async function dataReport(
  descriptorPath: string,
  audience: Audience,
): Promise<{ readonly files: ReportFiles; readonly rows: number; readonly findings: Findings }> {
  const examined = await examineExport(descriptorPath);
  const report = gatherDataReport(loadDescriptor(descriptorPath), examined);
  return {
    files: dataReportFiles(report, basename(descriptorPath), disclose(report.exhibits, audience)),
    rows: examined.cases?.rows ?? 0,
    findings: examined.findings,
  };
}
