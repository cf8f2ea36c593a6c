import { UsageError } from "../../base/errors.ts";
import { AUDIENCES, type Audience } from "../../disclosure/audience.ts";
import { disclose } from "../../disclosure/disclose.ts";
import type { HeldReport } from "../../disclosure/held/held-report.ts";
import { adherenceReport } from "../adherence/adherence-report.ts";
import { feasibilityReport } from "../feasibility/feasibility-report.ts";
import { definitionOf } from "../held-reports/definition-of.ts";
import { type LoadedNotebook, loadNotebook } from "../notebook/load-notebook.ts";
import { notebookFault } from "../notebook/notebook-fault.ts";
import type { NotebookSource } from "../notebook/notebook-source.ts";
import { runStudy } from "../run.ts";
import { ownReportFiles } from "./own-report-files.ts";
import { type ReportFiles, reportFiles } from "./report-files.ts";

/** A report ready to be written, under its folder name. */
export interface MadeReport {
  readonly id: string;
  readonly files: ReportFiles;
}

export interface MakeOptions {
  /** A descriptor, or its folder, in place of the one that the notebook names. */
  readonly export?: string | undefined;
  /** Reports that the same readers hold already, the oldest first. */
  readonly readersHold?: readonly HeldReport[];
}

/** From a notebook file to the files of its report: run, disclose, render. */
export async function makeReport(
  notebookPath: string,
  audience: Audience,
  { export: otherExport, readersHold = [] }: MakeOptions = {},
): Promise<MadeReport> {
  const { declared, source } = await loadNotebook(notebookPath);
  const notebook = otherExport === undefined ? source : { ...source, otherExport };
  try {
    const id = declared.kind === "report" ? declared.id : declared.plan.id;
    return { id, files: await filesOf(declared, notebook, audience, readersHold) };
  } catch (error) {
    // Its plan, or a section of its own, may be at fault.
    throw notebookFault(notebookPath, error, false);
  }
}

async function filesOf(
  declared: LoadedNotebook["declared"],
  notebook: NotebookSource,
  audience: Audience,
  readersHold: readonly HeldReport[],
): Promise<ReportFiles> {
  switch (declared.kind) {
    case "report":
      return ownReportFiles(
        declared,
        disclose(await declared.exhibits(), audience, { readersHold }),
        notebook,
      );
    case "feasibility":
      return (await feasibilityReport(declared, notebook, audience, readersHold)).files;
    case "adherence":
      return (await adherenceReport(declared, notebook, audience, readersHold)).files;
    case "study": {
      const run = await runStudy(declared, notebook);
      const definition = definitionOf(run.facts);
      return reportFiles(run, disclose(run.exhibits, audience, { readersHold, definition }));
    }
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
