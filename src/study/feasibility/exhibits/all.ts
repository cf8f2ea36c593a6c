import type { Exhibit } from "../../../disclosure/exhibit.ts";
import type { FeasibilityRun } from "../run-feasibility.ts";
import { levelsExhibit, surgeonsExhibit } from "./levels.ts";
import { otherMeasuresExhibit } from "./other-measures.ts";
import { periodsExhibit } from "./periods.ts";
import { recordingExhibit } from "./recording.ts";
import { togetherExhibit } from "./together.ts";
import { verdictsExhibit } from "./verdicts.ts";
import { whereBothExhibit } from "./where-both.ts";

/** What a page on feasibility shows, before disclosure control. */
export function feasibilityExhibits(run: Omit<FeasibilityRun, "exhibits">): Exhibit[] {
  const { exposure } = run;
  return [
    ...run.outcomes.map((_, at) => verdictsExhibit(run, at)),
    ...run.outcomes.flatMap(({ asked }, at) =>
      (asked.periods ?? []).length === 0 ? [] : [periodsExhibit(run, at)],
    ),
    otherMeasuresExhibit(run),
    recordingExhibit(run),
    whereBothExhibit(run),
    ...(exposure.overTime === undefined ? [] : [levelsExhibit(run, "over-time", exposure.overTime)]),
    ...(exposure.byCentre === undefined ? [] : [levelsExhibit(run, "by-centre", exposure.byCentre)]),
    ...exposure.byStratum.map((stratum, at) => levelsExhibit(run, `by-stratum-${at + 1}`, stratum)),
    ...(exposure.together.length === 0 ? [] : [togetherExhibit(run)]),
    ...(exposure.bySurgeon === undefined ? [] : [surgeonsExhibit(run, exposure.bySurgeon)]),
  ];
}
