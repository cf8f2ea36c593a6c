import { type Answer, computed, notComputed } from "../base/answer.ts";
import type { Reference } from "../survival/few-clusters.ts";
import type { Coefficient, FittedColumn, Separation } from "./coefficient.ts";
import { CONSTANT, type FitColumns } from "./fit-columns.ts";
import type { ModelMatrix } from "./model-matrix.ts";

/** What is known of each coefficient of a fit, in the order of `columns.names` and in the caller's units. */
export interface FittedValues {
  readonly estimates: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  readonly reference: Reference;
  /** By place: absent for a coefficient that is not separated. */
  readonly separations: ReadonlyMap<number, Separation>;
  /** Whether exp of a coefficient is a ratio that means something. */
  readonly hasRatios: boolean;
}

/** The constant, where there is one, and every column of the model: estimated, separated, or idle with the reason. */
export function fittedColumns(
  matrix: ModelMatrix,
  columns: FitColumns,
  values: FittedValues,
): readonly FittedColumn[] {
  const names = matrix.columns.map(({ name }) => name);
  const all = columns.names[0] === CONSTANT ? [CONSTANT, ...names] : names;
  return all.map((column): FittedColumn => {
    const term = termOf(matrix, names.indexOf(column)) ?? column;
    const idle = columns.idle.find((one) => one.column === column);
    if (idle !== undefined) return { column, term, coefficient: notComputed(idle.code, idle.because) };
    const place = columns.names.indexOf(column);
    const separation = values.separations.get(place);
    if (separation === undefined) return { column, term, coefficient: coefficientAt(values, place) };
    return { column, term, coefficient: SEPARATED, separation };
  });
}

export const SEPARATED = notComputed(
  "separation",
  "not estimable: separation (all on one side had the same outcome)",
);

/** A coefficient with its Wald interval. */
export function coefficientAt(
  { estimates, covariance, reference, hasRatios }: Omit<FittedValues, "separations">,
  place: number,
): Answer<Coefficient> {
  const estimate = estimates[place] ?? 0;
  const variance = covariance[place]?.[place] ?? 0;
  if (!(variance > 0))
    return notComputed("no-spread", "the rows or clusters leave no variation to estimate it from");
  const standardError = Math.sqrt(variance);
  const half = reference.quantile * standardError;
  const statistic = estimate / standardError;
  const [lower, upper] = [estimate - half, estimate + half];
  return computed({
    ...withRatio({ estimate, standardError, lower, upper, statistic, p: reference.p(statistic) }, hasRatios),
  });
}

/** The ratio is left out where it would run over. */
export function withRatio(coefficient: Omit<Coefficient, "ratio">, hasRatios: boolean): Coefficient {
  const { estimate, lower, upper } = coefficient;
  const ratio = { value: Math.exp(estimate), lower: Math.exp(lower), upper: Math.exp(upper) };
  return hasRatios && Object.values(ratio).every(Number.isFinite) ? { ...coefficient, ratio } : coefficient;
}

/** Places, in a fit, of the columns of each term. */
export function placesOfTerms(
  matrix: ModelMatrix,
  columns: FitColumns,
): readonly { readonly term: string; readonly places: readonly number[] }[] {
  return matrix.terms.map(({ name, from, columns: count }) => ({
    term: name,
    places: matrix.columns
      .slice(from, from + count)
      .map((column) => columns.names.indexOf(column.name))
      .filter((place) => place >= 0),
  }));
}

function termOf({ terms }: ModelMatrix, column: number): string | undefined {
  return terms.find(({ from, columns }) => column >= from && column < from + columns)?.name;
}
