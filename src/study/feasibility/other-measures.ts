import { type TwoGroups, unitsForMeans } from "../../planning/units-for-means.ts";
import { unitsForProportions } from "../../planning/units-for-proportions.ts";

/** An outcome that does not wait for revisions: a mean or a proportion in two groups of equal size. */
export type OtherMeasure =
  | { readonly label: string; readonly difference: number; readonly standardDeviation: number }
  | { readonly label: string; readonly proportions: readonly [number, number] };

/** Judgements, in line with published series; a plan can put its own in their place. */
export const OTHER_MEASURES: readonly OtherMeasure[] = [
  { label: "Depth of cement: 0.5 mm, spread 1.1 mm", difference: 0.5, standardDeviation: 1.1 },
  { label: "Depth of cement: 0.3 mm, spread 1.1 mm", difference: 0.3, standardDeviation: 1.1 },
  { label: "A line on the film: 40 % against 25 %", proportions: [0.4, 0.25] },
  { label: "A line on the film: 40 % against 30 %", proportions: [0.4, 0.3] },
  { label: "A step kept to: 90 % against 80 %", proportions: [0.9, 0.8] },
];

/** Units needed for a measure, both groups of one size. */
export function unitsForMeasure(
  measure: OtherMeasure,
  settings: { readonly power: number; readonly level: number },
): TwoGroups<unknown> {
  return "proportions" in measure
    ? unitsForProportions({ proportions: measure.proportions, ...settings })
    : unitsForMeans({
        difference: measure.difference,
        standardDeviation: measure.standardDeviation,
        ...settings,
      });
}
