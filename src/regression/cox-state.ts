import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { symmetricInverse } from "../numeric/symmetric-matrix.ts";
import type { ObservationColumns } from "../survival/observations.ts";
import { keptRows } from "./cox-kept-rows.ts";
import { type CoxPoint, coxLikelihood } from "./cox-likelihood.ts";
import type { CoxFit } from "./cox-result.ts";
import { type CoxRows, coxRows } from "./cox-rows.ts";
import type { ModelMatrix } from "./model-matrix.ts";
import type { ScaledColumn } from "./scaled-columns.ts";

/** A fit set up again on the rows it came from: what curves, residuals and checks are made of. */
export interface CoxState {
  readonly rows: CoxRows;
  /** The columns that have a coefficient. */
  readonly columns: readonly ScaledColumn[];
  readonly values: readonly Float64Array[];
  /** Coefficients and inverse information in scaled columns. */
  readonly beta: Float64Array;
  readonly point: CoxPoint;
  readonly inverse: readonly (readonly number[])[];
}

interface KnownState {
  readonly data: ObservationColumns;
  readonly matrix: ModelMatrix;
  readonly state: CoxState;
}

let known = new WeakMap<CoxFit, KnownState>();

/**
 * One pass at the coefficients of the fit; refused where some have none but the fit needs them.
 *
 * The state of the newest fit is held as long as the fit: what is asked of a fit is mostly asked one after the other.
 */
export function coxState(
  where: string,
  data: ObservationColumns,
  matrix: ModelMatrix,
  fit: CoxFit,
): Answer<{ readonly state: CoxState }> {
  const names = matrix.columns.map(({ name }) => name);
  if (fit.columns.length !== names.length || fit.columns.some(({ column }, at) => column !== names[at])) {
    throw new ArgumentError(
      `${where}: the fit is of other columns; give the model matrix that it was made from`,
    );
  }
  if (fit.columns.some(({ separation }) => separation !== undefined)) {
    return notComputed("separation", "a coefficient runs away, so the fit gives no hazards");
  }
  const { sameDay } = fit.settings;
  if (sameDay === "exact") {
    return notComputed(
      "exact-rule",
      'the same-day rule "exact" gives no hazards; fit with "efron" or "breslow"',
    );
  }
  const own = known.get(fit);
  if (own?.data === data && own.matrix === matrix) return computed({ state: own.state });
  const rows = keptRows(fit, data, matrix) ?? coxRows(where, data, matrix, fit.settings.event);
  if (rows.count !== fit.rows) {
    throw new ArgumentError(
      `${where}: the fit is of ${fit.rows} rows and these are ${rows.count}; give the rows that it was made from`,
    );
  }
  const columns = rows.columns.filter(({ name }) => fit.estimated.includes(name));
  const values = columns.map((column) => column.values);
  const beta = Float64Array.from(columns, ({ name, scale }) => logRatioOf(fit, name) * scale);
  const point = coxLikelihood(rows, sameDay, values, beta);
  const inverse = symmetricInverse(point.information);
  if (inverse === undefined)
    return notComputed("no-curvature", "the likelihood does not bend at these coefficients");
  const state = { rows, columns, values, beta, point, inverse };
  known = new WeakMap([[fit, { data, matrix, state }]]);
  return computed({ state });
}

function logRatioOf(fit: CoxFit, name: string): number {
  const ratio = fit.columns.find(({ column }) => column === name)?.hazardRatio;
  return ratio?.computed === true ? ratio.logRatio : 0;
}
