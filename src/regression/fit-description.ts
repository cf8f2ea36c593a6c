import { type Answer, notComputed } from "../base/answer.ts";
import type { FittedColumn, FittedTerm } from "./coefficient.ts";
import type { ModelTest } from "./cox-result.ts";
import { CONSTANT, type FitColumns } from "./fit-columns.ts";
import { type FittedValues, fittedColumns, placesOfTerms } from "./fitted-columns.ts";
import type { ModelMatrix } from "./model-matrix.ts";
import type { VarianceSettings } from "./variance-of-fit.ts";
import { waldTest } from "./wald-tests.ts";

/** The parts that every regression result has. */
export interface FitDescription {
  /** The constant first, where there is one. */
  readonly columns: readonly FittedColumn[];
  readonly terms: readonly FittedTerm[];
  /** Columns that have a coefficient: the order of the covariance. */
  readonly estimated: readonly string[];
  readonly covariance: readonly (readonly number[])[];
  /** Wald test that all coefficients but the constant are 0. */
  readonly wald: Answer<ModelTest>;
}

/** Columns, terms and tests of a fit; `ratio` tests places of coefficients by likelihood. */
export function describeFit(
  matrix: ModelMatrix,
  columns: FitColumns,
  values: FittedValues,
  { variance }: VarianceSettings,
  ratio: (places: readonly number[]) => Answer<ModelTest>,
): FitDescription {
  const places = estimatedPlaces(columns, values);
  const orNothing =
    (test: (places: readonly number[]) => Answer<ModelTest>) =>
    (of: readonly number[]): Answer<ModelTest> =>
      of.length === 0 ? NOTHING_OF_ITS_OWN : test(of);
  const wald = orNothing((of) => waldTest(values, of, variance));
  return {
    columns: fittedColumns(matrix, columns, values),
    terms: placesOfTerms(matrix, columns).map(({ term, places: of }) => ({
      term,
      wald: wald(of),
      likelihoodRatio: orNothing(ratio)(of),
    })),
    estimated: places.map((place) => columns.names[place] ?? ""),
    covariance: amongPlaces(values.covariance, places),
    wald: wald([...columns.names.keys()].filter((place) => columns.names[place] !== CONSTANT)),
  };
}

/** Places of the coefficients that have a value. */
export function estimatedPlaces({ names }: FitColumns, { separations }: FittedValues): number[] {
  return [...names.keys()].filter((place) => !separations.has(place));
}

export function amongPlaces(
  matrix: readonly (readonly number[])[],
  places: readonly number[],
): readonly (readonly number[])[] {
  return places.map((a) => places.map((b) => matrix[a]?.[b] ?? 0));
}

export const NOTHING_OF_ITS_OWN = notComputed(
  "nothing-to-test",
  "no column of the term says anything of its own",
);

export const RATIO_NOT_ASKED = notComputed(
  "not-asked",
  'the likelihood-ratio test of a term comes with interval "profile"',
);

export const ONE_CLUSTER = notComputed("one-cluster", "with one cluster nothing varies between clusters");
