import type { Audience } from "../../disclosure/audience.ts";
import type { Cleared, ClearedExhibit, ClearedTable } from "../../disclosure/cleared.ts";
import { disclose } from "../../disclosure/disclose.ts";
import type { HeldReport } from "../../disclosure/held/held-report.ts";
import type { ReportFiles } from "../making/report-files.ts";
import type { NotebookSource } from "../notebook/notebook-source.ts";
import type { FeasibilityStudy } from "./define-feasibility.ts";
import { feasibilityFiles } from "./report.ts";
import { runFeasibility } from "./run-feasibility.ts";

/** The verdicts by outcome as their readers may see them. */
export type VerdictTables = readonly ClearedTable[];

/** From a plan of questions to the files of its page: run, disclose, render. */
export async function feasibilityReport(
  study: FeasibilityStudy,
  notebook: NotebookSource,
  audience: Audience,
  readersHold: readonly HeldReport[] = [],
): Promise<{ readonly files: ReportFiles; readonly verdicts: VerdictTables; readonly comparisons: number }> {
  const run = await runFeasibility(study, notebook);
  const cleared = disclose(run.exhibits, audience, { readersHold });
  return {
    files: feasibilityFiles(run, cleared),
    verdicts: cleared.exhibits.filter(isVerdicts),
    comparisons: run.comparisons,
  };
}

function isVerdicts(exhibit: Cleared<ClearedExhibit>): exhibit is Cleared<ClearedTable> {
  return exhibit.kind === "table" && exhibit.id.startsWith("verdicts-");
}
