import type { Exhibit } from "../../../disclosure/exhibit.ts";
import { personsTwice } from "../../sections/flow.ts";
import type { AdherenceRun } from "../run-adherence.ts";
import { changeExhibits } from "./change.ts";
import { lookedAtExhibit } from "./flow.ts";
import { levelExhibits } from "./levels.ts";
import { BY_YEAR } from "./step-counts.ts";
import { doneExhibit, standardsExhibit, statesExhibit } from "./steps.ts";
import { togetherExhibit } from "./together.ts";

/** What a page on adherence shows, before disclosure control. */
export function adherenceExhibits(run: Omit<AdherenceRun, "exhibits">): Exhibit[] {
  const flow = lookedAtExhibit(run);
  const states = statesExhibit(run);
  return [
    flow,
    doneExhibit(run),
    standardsExhibit(run),
    { ...states, relations: [...(states.relations ?? []), ...personsTwice(flow)] },
    ...togetherExhibit(run),
    ...changeExhibits(run),
    ...(run.overYears === undefined ? [] : levelExhibits(run, BY_YEAR, run.overYears)),
    ...run.strata.flatMap((found, at) => levelExhibits(run, `by-stratum-${at + 1}`, found)),
  ];
}
