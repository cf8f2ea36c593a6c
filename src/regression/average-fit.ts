import { type Answer, computed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import type { Observations } from "../survival/observations.ts";
import { type CoxOptions, defaultVariance } from "./cox-options.ts";
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
  if (isOf(matrix, average) && isAsAsked(observations, options, average)) return computed(average);
  throw new ArgumentError(
    `${where}: average is a fit of other columns, rows or options; give the one of this matrix and these options, or leave it out`,
  );
}

function isOf({ columns, rows }: ModelMatrix, average: CoxFit): boolean {
  return (
    average.columns.length === columns.length &&
    average.columns.every(({ column }, at) => column === columns[at]?.name) &&
    average.rows <= rows.length
  );
}

function isAsAsked(observations: Observations, options: CoxOptions, { settings }: CoxFit): boolean {
  const variance = options.variance ?? defaultVariance(observations);
  const asked = {
    event: options.event ?? observations.causes,
    level: options.level ?? 0.95,
    sameDay: options.sameDay ?? "efron",
    smallSample: options.smallSample ?? "none",
    variance,
    clusteredBy:
      variance === "clustered"
        ? [observations.cluster?.word, options.secondCluster?.word].filter((word) => word !== undefined)
        : [],
  };
  const { event, level, sameDay, smallSample, variance: had, clusteredBy } = settings;
  return (
    JSON.stringify(asked) ===
    JSON.stringify({ event, level, sameDay, smallSample, variance: had, clusteredBy })
  );
}
