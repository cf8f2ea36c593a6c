import { type Answer, computed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import type { ObservationColumns } from "../survival/observations.ts";
import { plainNumbers } from "../survival/plain-numbers.ts";
import { independentUnits } from "../survival/units.ts";
import { scoreShares } from "./cox-influence.ts";
import type { CoxFit } from "./cox-result.ts";
import { coxState } from "./cox-state.ts";
import type { ModelMatrix } from "./model-matrix.ts";
import { unitSums } from "./unit-sums.ts";

/** How far the log ratios move when a unit is taken in, first order. */
export interface CoxInfluence {
  readonly kind: "coxInfluence";
  /** Word of the cluster, or "case" or "row". */
  readonly by: string;
  readonly columns: readonly string[];
  /** First row of the observations that belongs to each unit. */
  readonly firstRow: readonly number[];
  /** By column: log ratio with the unit less log ratio without it. */
  readonly change: readonly (readonly number[])[];
  /** By unit: the largest change over the columns, in standard errors of the fit. */
  readonly largest: readonly number[];
}

/**
 * Which rows, cases or clusters carry a fit: the change in each log ratio that a unit brings about.
 *
 * First order, inverse information times the unit's share of the score; squared and added up over units it is the robust
 * variance.
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(1, 0, 1, 0, 1, 0), missing: new Uint8Array(6), missingReasons: [] } as const;
 * const matrix = modelMatrix([x], [numberTerm("x")]);
 * const rows = { exit: [1, 2, 3, 4, 5, 6], event: [1, 0, 1, 1, 0, 1] };
 * const fit = coxRegression(rows, matrix);
 * if (!fit.computed) throw new Error(fit.because);
 * coxInfluence(rows, matrix, fit); // the largest is 0.514 of a standard error, of row 4
 */
export function coxInfluence(
  observations: ObservationColumns,
  matrix: ModelMatrix,
  fit: CoxFit,
  options: { readonly by?: "row" | "cluster" } = {},
): Answer<CoxInfluence> {
  const set = coxState("coxInfluence", observations, matrix, fit);
  if (!set.computed) return set;
  const { rows, columns, values, point, inverse } = set.state;
  const { cluster, caseId } = rows.observations;
  const { by = cluster === undefined ? "row" : "cluster" } = options;
  if (by === "cluster" && cluster === undefined) {
    throw new ArgumentError('coxInfluence: by "cluster" needs a cluster in the observations');
  }
  const units = independentUnits(rows.observations, by === "cluster");
  // Whole units: a unit of copies is taken in with all of them.
  const weightOf = (row: number) => rows.observations.weight?.values[row] ?? 1;
  const byUnit = unitSums(rows, { ...units, factor: weightOf }, "units");
  const sums = values.map((column, j) => byUnit.of(scoreShares(rows, point, column, j)));
  const first = firstRows(rows.row, units.codes, units.count);
  const seen = [...first.keys()].filter((unit) => first[unit]! >= 0);
  const change = columns.map(({ scale }, j) =>
    seen.map((unit) => inverse[j]!.reduce((sum, v, k) => sum + v * sums[k]![unit]!, 0) / scale),
  );
  const errors = fit.covariance.map((line, j) => Math.sqrt(line[j]!));
  return computed({
    kind: "coxInfluence",
    by: units.word ?? (caseId === undefined ? "row" : "case"),
    columns: columns.map(({ name }) => name),
    firstRow: plainNumbers(seen.map((unit) => first[unit]!)),
    change,
    largest: seen.map((_, at) =>
      change.reduce(
        (most, own, j) => Math.max(most, errors[j]! > 0 ? Math.abs(own[at]!) / errors[j]! : 0),
        0,
      ),
    ),
  });
}

function firstRows(row: Int32Array, codes: Int32Array | undefined, count: number): Int32Array {
  const first = new Int32Array(count).fill(-1);
  for (const one of row) {
    const unit = codes?.[one] ?? one;
    if (first[unit] === -1 || first[unit]! > one) first[unit] = one;
  }
  return first;
}
