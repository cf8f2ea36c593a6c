import { type Answer, computed, notComputed } from "../base/answer.ts";
import { chiSquareUpper } from "../numeric/chi-square.ts";
import { fUpper } from "../numeric/f-distribution.ts";
import { choleskyFactor, choleskySolve, type SymmetricMatrix } from "../numeric/symmetric-matrix.ts";
import { FEW_CLUSTERS } from "../survival/few-clusters.ts";
import type { ModelTest } from "./cox-result.ts";
import type { CoxVarianceKind } from "./cox-variance.ts";

/** What a variance rests on, and between how many units it was taken; null: the model. */
export interface TestGround {
  readonly variance: CoxVarianceKind;
  readonly clusters: number | null;
}

export const MODEL_GROUND: TestGround = { variance: "model", clusters: null };

/** vᵀ V⁻¹ v on as many degrees of freedom as v has elements; F below 30 clusters. */
export function quadraticTest(
  vector: ArrayLike<number>,
  covariance: SymmetricMatrix,
  ground: TestGround,
): Answer<ModelTest> {
  const degreesOfFreedom = vector.length;
  const { clusters } = ground;
  if (degreesOfFreedom === 0) return notComputed("no-parameters", "no column has a coefficient");
  if (clusters !== null && clusters <= degreesOfFreedom) {
    return notComputed("too-few-clusters", "too few clusters to test the coefficients together");
  }
  const factor = choleskyFactor(covariance);
  if (factor === undefined) {
    return notComputed(
      "singular-variance",
      "the variance leaves some combination of the coefficients without spread",
    );
  }
  const solved = choleskySolve(factor, vector);
  return computed(
    chiSquareTest(
      solved.reduce((sum, value, k) => sum + value * (vector[k] ?? 0), 0),
      degreesOfFreedom,
      ground,
    ),
  );
}

export function chiSquareTest(
  chiSquare: number,
  degreesOfFreedom: number,
  { variance, clusters }: TestGround = MODEL_GROUND,
): ModelTest {
  if (clusters === null || clusters >= FEW_CLUSTERS || degreesOfFreedom === 0) {
    return {
      chiSquare,
      degreesOfFreedom,
      p: degreesOfFreedom === 0 ? 1 : chiSquareUpper(chiSquare, degreesOfFreedom),
      variance,
      degreesBeneath: null,
    };
  }
  const beneath = clusters - degreesOfFreedom;
  const p = fUpper((chiSquare * beneath) / (degreesOfFreedom * (clusters - 1)), degreesOfFreedom, beneath);
  return { chiSquare, degreesOfFreedom, p, variance, degreesBeneath: beneath };
}
