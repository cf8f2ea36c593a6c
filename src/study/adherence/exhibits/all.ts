import type { Exhibit } from "../../../disclosure/exhibit.ts";
import type { AdherenceRun } from "../run-adherence.ts";
import { changeExhibits } from "./change.ts";
import { levelExhibits } from "./levels.ts";
import { doneExhibit, standardsExhibit, statesExhibit } from "./steps.ts";
import { togetherExhibit } from "./together.ts";

/** What a page on adherence shows, before disclosure control. */
export function adherenceExhibits(run: Omit<AdherenceRun, "exhibits">): Exhibit[] {
  return [
    doneExhibit(run),
    standardsExhibit(run),
    statesExhibit(run),
    ...togetherExhibit(run),
    ...changeExhibits(run),
    ...(run.overYears === undefined ? [] : levelExhibits(run, "by-year", run.overYears)),
    ...run.strata.flatMap((found, at) => levelExhibits(run, `by-stratum-${at + 1}`, found)),
  ];
}
