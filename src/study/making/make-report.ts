import { UsageError } from "../../base/errors.ts";
import { AUDIENCES, type Audience } from "../../disclosure/audience.ts";
import { disclose } from "../../disclosure/disclose.ts";
import { adherenceReport } from "../adherence/adherence-report.ts";
import { feasibilityReport } from "../feasibility/feasibility-report.ts";
import { loadNotebook } from "../notebook/load-notebook.ts";
import { notebookFault } from "../notebook/notebook-fault.ts";
import { runStudy } from "../run.ts";
import { ownReportFiles } from "./own-report-files.ts";
import { type ReportFiles, reportFiles } from "./report-files.ts";

/** A report ready to be written, under its folder name. */
export interface MadeReport {
  readonly id: string;
  readonly files: ReportFiles;
}

/** From a notebook file to the files of its report: run, disclose, render. */
export async function makeReport(
  notebookPath: string,
  audience: Audience,
  otherExport?: string,
): Promise<MadeReport> {
  const { declared, source } = await loadNotebook(notebookPath);
  if (declared.kind === "report") {
    try {
      const cleared = disclose(await declared.exhibits(), audience);
      return { id: declared.id, files: ownReportFiles(declared, cleared, source) };
    } catch (error) {
      throw notebookFault(notebookPath, error, false);
    }
  }
  const notebook = otherExport === undefined ? source : { ...source, otherExport };
  if (declared.kind === "feasibility") {
    const { files } = await feasibilityReport(declared, notebook, audience);
    return { id: declared.plan.id, files };
  }
  if (declared.kind === "adherence") {
    const { files } = await adherenceReport(declared, notebook, audience);
    return { id: declared.plan.id, files };
  }
  try {
    const run = await runStudy(declared, notebook);
    return { id: declared.plan.id, files: reportFiles(run, disclose(run.exhibits, audience)) };
  } catch (error) {
    // A section of the notebook's own may be at fault.
    throw notebookFault(notebookPath, error, false);
  }
}

/** The audience a person typed. */
export function audienceNamed(text: string): Audience {
  const audience = AUDIENCES.find((one) => one === text);
  if (audience === undefined) {
    throw new UsageError(
      "unknown-audience",
      `--audience: "${text}" is not known; write ${AUDIENCES.join(", ")}`,
    );
  }
  return audience;
}
