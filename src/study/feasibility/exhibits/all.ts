import type { Exhibit } from "../../../disclosure/exhibit.ts";
import type { FeasibilityRun } from "../run-feasibility.ts";
import { levelsExhibit, surgeonsExhibit } from "./levels.ts";
import { otherMeasuresExhibit } from "./other-measures.ts";
import { periodsExhibit } from "./periods.ts";
import { recordingExhibit } from "./recording.ts";
import type { StepSheet } from "./step-counts.ts";
import { togetherExhibit } from "./together.ts";
import { verdictsExhibit } from "./verdicts.ts";
import { whereBothExhibit } from "./where-both.ts";

/** What a page on feasibility shows, before disclosure control. */
export function feasibilityExhibits(run: Omit<FeasibilityRun, "exhibits">): Exhibit[] {
  const { exposure } = run;
  const sheet: StepSheet = {
    questions: run.outcomes[0]?.questions ?? [],
    followed: run.followed,
    rules: run.rules,
    unit: run.descriptor.study.unit,
  };
  return [
    ...run.outcomes.map((_, at) => verdictsExhibit(run, at)),
    ...run.outcomes.flatMap(({ asked }, at) =>
      (asked.periods ?? []).length === 0 ? [] : [periodsExhibit(run, at)],
    ),
    otherMeasuresExhibit(run),
    recordingExhibit(run),
    whereBothExhibit("where-both", sheet),
    ...(exposure.overTime === undefined ? [] : [levelsExhibit(sheet, "over-time", exposure.overTime)]),
    ...(exposure.byCentre === undefined ? [] : [levelsExhibit(sheet, "by-centre", exposure.byCentre)]),
    ...exposure.byStratum.map((stratum, at) => levelsExhibit(sheet, `by-stratum-${at + 1}`, stratum)),
    ...(exposure.together.length === 0 ? [] : [togetherExhibit(run)]),
    ...(exposure.bySurgeon === undefined
      ? []
      : [surgeonsExhibit("by-surgeon", run.hashes, exposure.bySurgeon)]),
  ];
}
