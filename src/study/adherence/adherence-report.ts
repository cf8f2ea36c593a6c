import type { Audience } from "../../disclosure/audience.ts";
import type { Cleared, ClearedExhibit, ClearedTable } from "../../disclosure/cleared.ts";
import { disclose } from "../../disclosure/disclose.ts";
import type { HeldReport } from "../../disclosure/held/held-report.ts";
import type { ReportFiles } from "../making/report-files.ts";
import type { NotebookSource } from "../notebook/notebook-source.ts";
import type { AdherenceStudy } from "./define-adherence.ts";
import { adherenceFiles } from "./report.ts";
import { runAdherence } from "./run-adherence.ts";

/** The steps and their standards as their readers may see them. */
export type StandardsTable = Cleared<ClearedTable>;

/** From a plan of standards to the files of its page: run, disclose, render. `standards` is the table of the terminal. */
export async function adherenceReport(
  study: AdherenceStudy,
  notebook: NotebookSource,
  audience: Audience,
  readersHold: readonly HeldReport[] = [],
): Promise<{ readonly files: ReportFiles; readonly standards: StandardsTable | undefined }> {
  const run = await runAdherence(study, notebook);
  const cleared = disclose(run.exhibits, audience, { readersHold });
  return { files: adherenceFiles(run, cleared), standards: cleared.exhibits.find(isStandards) };
}

function isStandards(exhibit: Cleared<ClearedExhibit>): exhibit is StandardsTable {
  return exhibit.kind === "table" && exhibit.id === "standards";
}
