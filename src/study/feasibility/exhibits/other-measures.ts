import type { TableExhibit } from "../../../disclosure/exhibit.ts";
import { noCell, sized, textCell } from "../../sections/cells.ts";
import { OTHER_MEASURES, unitsForMeasure } from "../other-measures.ts";
import type { FeasibilityRun } from "../run-feasibility.ts";
import { stepKeys } from "./step-counts.ts";

/** What outcomes that do not wait for revisions would take at this unit's own volume. */
export function otherMeasuresExhibit(run: Omit<FeasibilityRun, "exhibits">): TableExhibit {
  const { many } = run.descriptor.study.unit;
  const { power, longestYears } = run.rules;
  const measures = run.plan.otherMeasures ?? OTHER_MEASURES;
  const followed = sized(stepKeys.followed, run.followed);
  return {
    kind: "table",
    id: "other-measures",
    title: "What other outcomes would take",
    columns: [
      { id: "measure", label: "Difference to be seen" },
      { id: "units", label: `${many} in both groups`, align: "end" },
      { id: "months", label: "Months at this volume", align: "end" },
    ],
    rows: measures.map((measure) => {
      const answer = unitsForMeasure(measure, { power, level: run.level });
      if (!answer.computed) return { label: measure.label, cells: [noCell(answer), textCell("none")] };
      const units = answer.units[0] + answer.units[1];
      const months = run.unitsPerYear === null ? undefined : (12 * units) / run.unitsPerYear;
      return {
        label: measure.label,
        cells: [
          textCell(String(units)),
          months === undefined
            ? textCell("no dates")
            : months > 12 * longestYears
              ? textCell(`over ${12 * longestYears}`)
              : { kind: "number", value: Math.ceil(months), decimals: 0, restsOn: [followed] },
        ],
      };
    }),
    notes: [
      "Groups of one size, every measurement independent, nothing lost; figures are judgements that a plan can replace.",
    ],
  };
}
