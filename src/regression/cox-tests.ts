import { type Answer, computed, notComputed } from "../base/answer.ts";
import { chiSquareUpper } from "../numeric/chi-square.ts";
import { fUpper } from "../numeric/f-distribution.ts";
import { choleskyFactor, choleskySolve, type SymmetricMatrix } from "../numeric/symmetric-matrix.ts";
import { FEW_CLUSTERS } from "../survival/few-clusters.ts";
import type { CoxColumn, CoxFit, ModelTest } from "./cox-result.ts";
import type { CoxVarianceKind } from "./cox-variance.ts";

/** What a variance rests on, and between how many units it was taken; null: the model. */
export interface TestGround {
  readonly variance: CoxVarianceKind;
  readonly clusters: number | null;
  /** Where scores were corrected for their own part: degrees of freedom of the coefficient that has fewest. */
  readonly freedom?: number;
}

export const MODEL_GROUND: TestGround = { variance: "model", clusters: null };

/** vᵀ V⁻¹ v on as many degrees of freedom as v has elements; F below 30 clusters, and wherever `freedom` is known. */
export function quadraticTest(
  vector: ArrayLike<number>,
  covariance: SymmetricMatrix,
  ground: TestGround,
): Answer<ModelTest> {
  const degreesOfFreedom = vector.length;
  const beneath = degreesBeneath(ground, degreesOfFreedom);
  if (degreesOfFreedom === 0) return notComputed("no-parameters", "no column has a coefficient");
  if (beneath !== null && !(beneath > 0)) {
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
  ground: TestGround = MODEL_GROUND,
): ModelTest {
  const { variance, clusters } = ground;
  const beneath = degreesBeneath(ground, degreesOfFreedom);
  const isNormal = beneath === null || (ground.freedom === undefined && (clusters ?? 0) >= FEW_CLUSTERS);
  if (isNormal || degreesOfFreedom === 0) {
    return {
      chiSquare,
      degreesOfFreedom,
      p: degreesOfFreedom === 0 ? 1 : chiSquareUpper(chiSquare, degreesOfFreedom),
      variance,
      degreesBeneath: null,
    };
  }
  // With one coefficient the square of t on `freedom`.
  const ofOne = beneath + degreesOfFreedom - 1;
  const p = fUpper((chiSquare * beneath) / (degreesOfFreedom * ofOne), degreesOfFreedom, beneath);
  return { chiSquare, degreesOfFreedom, p, variance, degreesBeneath: beneath };
}

/** Lower degrees of freedom of F; null for the model's variance. */
function degreesBeneath({ clusters, freedom }: TestGround, degreesOfFreedom: number): number | null {
  if (clusters === null) return null;
  return (freedom ?? clusters - 1) - degreesOfFreedom + 1;
}

/** What a test of several coefficients refers to: the one with the fewest degrees of freedom. */
export function fewestFreedom(freedoms: readonly number[] | undefined): Pick<TestGround, "freedom"> {
  return freedoms === undefined || freedoms.length === 0 ? {} : { freedom: Math.min(...freedoms) };
}

/** The ground of a fit, for a test of some of its columns. */
export function groundOfColumns(
  { variance, clusters, smallSample }: CoxFit["settings"],
  columns: readonly CoxColumn[],
): TestGround {
  const freedoms = columns.flatMap(({ hazardRatio }) =>
    hazardRatio.computed && hazardRatio.degreesOfFreedom !== undefined ? [hazardRatio.degreesOfFreedom] : [],
  );
  return {
    variance,
    clusters: clusters.length === 0 ? null : Math.min(...clusters),
    ...(smallSample === "shares" && fewestFreedom(freedoms)),
  };
}
