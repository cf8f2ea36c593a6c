import { type Answer, computed } from "../base/answer.ts";
import type { ObservationColumns } from "../survival/observations.ts";
import { plainNumbers } from "../survival/plain-numbers.ts";
import { martingaleShares, scoreShares } from "./cox-influence.ts";
import { expectedAt } from "./cox-likelihood.ts";
import type { CoxFit } from "./cox-result.ts";
import { type CoxState, coxState } from "./cox-state.ts";
import type { ModelMatrix } from "./model-matrix.ts";

/** Residuals of a fit. Arrays over rows are parallel to `rows`, those over events to `eventRows`. */
export interface CoxResiduals {
  readonly kind: "coxResiduals";
  /** Columns with a coefficient: the order of the arrays by column. */
  readonly columns: readonly string[];
  /** Rows of the observations, ascending. */
  readonly rows: readonly number[];
  /** Observed less expected events of the row. */
  readonly martingale: readonly number[];
  /** The same, made about symmetric: far-out rows show on both sides. */
  readonly deviance: readonly number[];
  /** By column: the row's share of the score, in units of the column. */
  readonly score: readonly (readonly number[])[];
  /** Rows with an event, by stratum, tick and row. */
  readonly eventRows: readonly number[];
  readonly eventTicks: readonly number[];
  /** By column: value of the row less the mean of those at risk, weighted by their hazards. */
  readonly schoenfeld: readonly (readonly number[])[];
  /** By column: log ratio + events · covariance · schoenfeld, whose trend over time is that of the log ratio. */
  readonly scaledSchoenfeld: readonly (readonly number[])[];
}

/**
 * How far each row and each event lies from what a fit expects.
 *
 * Residuals are of one row, not multiplied by its weight; pieces of a case add up to the case, but for deviance. Under
 * "efron" means and hazards are over the turns of the tick. Scaled ones use the model's covariance.
 *
 * Source: Therneau, Grambsch and Fleming 1990; Schoenfeld 1982; Grambsch and Therneau 1994.
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(1, 0, 1, 0, 1, 0), missing: new Uint8Array(6), missingReasons: [] } as const;
 * const matrix = modelMatrix([x], [numberTerm("x")]);
 * const rows = { exit: [1, 2, 3, 4, 5, 6], event: [1, 0, 1, 1, 0, 1] };
 * const fit = coxRegression(rows, matrix);
 * if (!fit.computed) throw new Error(fit.because);
 * coxResiduals(rows, matrix, fit); // martingale residuals 0.760, −0.094, 0.401, …
 */
export function coxResiduals(
  observations: ObservationColumns,
  matrix: ModelMatrix,
  fit: CoxFit,
): Answer<CoxResiduals> {
  const set = coxState("coxResiduals", observations, matrix, fit);
  if (!set.computed) return set;
  const { state } = set;
  const { rows, columns, values, point } = state;
  const order = orderByRow(rows.row);
  const inRowOrder = (shares: Float64Array, unit: number) =>
    order.map((i) => (shares[i]! * unit) / (rows.weight?.[i] ?? 1));
  const martingale = inRowOrder(martingaleShares(rows, point), 1);
  const isEvent = new Uint8Array(rows.count);
  for (const i of rows.eventRows) isEvent[i] = 1;
  const schoenfeld = schoenfeldOf(state);
  return computed({
    kind: "coxResiduals",
    columns: columns.map(({ name }) => name),
    rows: order.map((i) => rows.row[i]!),
    martingale,
    deviance: martingale.map((residual, at) => devianceOf(residual, isEvent[order[at]!]!)),
    score: columns.map(({ scale }, j) => inRowOrder(scoreShares(rows, point, values[j]!, j), scale)),
    eventRows: plainNumbers(rows.eventRows.map((i) => rows.row[i]!)),
    eventTicks: plainNumbers(rows.eventRows.map((i) => rows.cells.tick[rows.exitCell[i]!]!)),
    schoenfeld: schoenfeld.map((own, j) => own.map((value) => value * columns[j]!.scale)),
    scaledSchoenfeld: scaledSchoenfeld(state, schoenfeld),
  });
}

function orderByRow(row: Int32Array): number[] {
  const last = row.reduce((most, one) => Math.max(most, one), -1);
  const placeOf = new Int32Array(last + 1).fill(-1);
  for (let i = 0; i < row.length; i += 1) placeOf[row[i]!] = i;
  return Array.from(placeOf.filter((i) => i >= 0));
}

/** By scaled column, for each event row: value less mean at risk. */
export function schoenfeldOf({ rows, values, point }: CoxState): number[][] {
  const { cells, exitCell, eventRows } = rows;
  return values.map((column, j) =>
    Array.from(eventRows, (i) => {
      const cell = exitCell[i]!;
      return column[i]! - expectedAt(point.sums, point.terms, j, cell) / cells.eventWeight[cell]!;
    }),
  );
}

/** In the caller's units. */
export function scaledSchoenfeld(
  { rows, columns, beta, inverse }: CoxState,
  schoenfeld: readonly (readonly number[])[],
): number[][] {
  const events = rows.eventRows.length;
  return columns.map(({ scale }, j) =>
    Array.from(
      rows.eventRows,
      (_, at) =>
        (beta[j]! + events * inverse[j]!.reduce((sum, v, k) => sum + v * schoenfeld[k]![at]!, 0)) / scale,
    ),
  );
}

function devianceOf(martingale: number, event: number): number {
  const expected = event - martingale;
  const inside = martingale + (event === 0 ? 0 : Math.log(Math.max(expected, Number.MIN_VALUE)));
  return Math.sign(martingale) * Math.sqrt(Math.max(0, -2 * inside));
}
