import type { CoxOptions } from "../../../src/regression/cox-options.ts";
import { coxRegression } from "../../../src/regression/cox-regression.ts";
import type { CoxColumn, CoxFit } from "../../../src/regression/cox-result.ts";
import { referenceRecord } from "../../../tests/reference/reference-files.ts";
import type { Tolerance } from "../../../tests/reference/tolerance.ts";
import type { CoxExample } from "../../../tests/regression/cox-examples.ts";
import { type Check, seriesCheck } from "../check.ts";
import { answered } from "../curves.ts";

export const record = (id: string) => referenceRecord("05_cox", id);

export const CLOSE: Tolerance = { relative: 1e-8, absolute: 0 };

export const CLOSED: Tolerance = { relative: 1e-12, absolute: 0 };

export function fitted({ columns, matrix }: CoxExample, options?: CoxOptions): CoxFit {
  return answered(coxRegression(columns, matrix, options));
}

export function logRatios(columns: readonly CoxColumn[]): number[] {
  return columns.map(({ hazardRatio }) => answered(hazardRatio).logRatio);
}

export interface FitReference {
  readonly coef: number | readonly number[];
  readonly vcov: readonly (readonly number[])[];
  readonly loglikNull: number;
  readonly loglik: number;
  readonly lrtest: readonly number[];
  readonly scoretest: readonly number[];
}

/** One row each for coefficients, their covariance, the likelihoods and the two tests. */
export function fitChecks(name: string, fit: CoxFit, theirs: FitReference, tolerance: Tolerance): Check[] {
  const diagonal = (matrix: readonly (readonly number[])[]) => matrix.map((line, at) => line[at]);
  return [
    seriesCheck(`Log ratios, ${name}`, logRatios(fit.columns), [theirs.coef].flat(), tolerance),
    seriesCheck(`Variances, ${name}`, diagonal(fit.covariance), diagonal(theirs.vcov), tolerance),
    seriesCheck(
      `Log-likelihoods at 0 and at the top, ${name}`,
      [fit.nullLogLikelihood, fit.logLikelihood],
      [theirs.loglikNull, theirs.loglik],
      tolerance,
    ),
    // Of sampling weights there are none.
    ...(fit.settings.weights === "sampling"
      ? []
      : [
          seriesCheck(
            `Likelihood-ratio and score test, ${name}`,
            [fit.likelihoodRatio, fit.score]
              .map((test) => answered(test))
              .flatMap(({ chiSquare, degreesOfFreedom, p }) => [chiSquare, degreesOfFreedom, p]),
            [...theirs.lrtest, ...theirs.scoretest],
            tolerance,
          ),
        ]),
  ];
}
