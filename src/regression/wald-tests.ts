import { type Answer, computed, notComputed } from "../base/answer.ts";
import { chiSquareUpper } from "../numeric/chi-square.ts";
import { fUpper } from "../numeric/f-distribution.ts";
import { generalisedForm } from "../numeric/generalised-form.ts";
import type { ModelTest } from "./cox-result.ts";
import type { CoxVarianceKind } from "./cox-variance.ts";
import { type FittedValues, SEPARATED } from "./fitted-columns.ts";

/** Wald test that the coefficients at `places` are all 0; p from F over few clusters or few rows. */
export function waldTest(
  { estimates, covariance, separations, reference }: Omit<FittedValues, "hasRatios">,
  places: readonly number[],
  variance: CoxVarianceKind,
): Answer<ModelTest> {
  if (places.some((place) => separations.has(place))) return SEPARATED;
  const { value: chiSquare, rank } = generalisedForm(
    places.map((place) => estimates[place] ?? 0),
    places.map((a) => places.map((b) => covariance[a]?.[b] ?? 0)),
  );
  if (rank === 0) return notComputed("nothing-to-test", "no coefficient has a variance");
  const degreesBeneath = reference.degreesOfFreedom;
  const p =
    degreesBeneath === null
      ? chiSquareUpper(chiSquare, rank)
      : fUpper(chiSquare / rank, rank, degreesBeneath);
  return computed({ chiSquare, degreesOfFreedom: rank, p, variance, degreesBeneath });
}
