import { type Answer, computed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import type { Observations } from "../survival/observations.ts";
import type { CoxOptions } from "./cox-options.ts";
import { coxRegression } from "./cox-regression.ts";
import type { CoxFit } from "./cox-result.ts";
import type { ModelMatrix } from "./model-matrix.ts";

export interface AverageOptions extends CoxOptions {
  /** The fit that takes no notice of the split, where it was made already with the same rows, columns and options. */
  readonly average?: CoxFit;
}

/** The fit beside which a split one is shown: the one handed in, or made here. */
export function averageFit(
  where: string,
  observations: Observations,
  matrix: ModelMatrix,
  { average, ...options }: AverageOptions,
): Answer<CoxFit> {
  if (average === undefined) return coxRegression(observations, matrix, options);
  const names = matrix.columns.map(({ name }) => name);
  const isSame =
    average.columns.length === names.length &&
    average.columns.every(({ column }, at) => column === names[at]) &&
    average.rows <= matrix.rows.length;
  if (isSame) return computed(average);
  throw new ArgumentError(
    `${where}: average is a fit of other columns or rows; give the one of this matrix, or leave it out`,
  );
}
