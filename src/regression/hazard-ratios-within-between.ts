import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { checkObservations } from "../survival/check-observations.ts";
import type { ObservationColumns } from "../survival/observations.ts";
import { type AverageOptions, averageFit } from "./average-fit.ts";
import { coxRegression } from "./cox-regression.ts";
import type { CoxColumn, CoxFit, ModelTest } from "./cox-result.ts";
import { groundOfColumns, quadraticTest } from "./cox-tests.ts";
import type { ModelMatrix } from "./model-matrix.ts";
import { namedTerm, requireNoInteraction } from "./named-term.ts";
import { withinBetween } from "./within-between.ts";

export interface WithinBetweenOptions extends AverageOptions {
  /** The term, of one column, that is split. */
  readonly term: string;
}

export interface HazardRatiosWithinBetween {
  readonly kind: "hazardRatiosWithinBetween";
  readonly term: string;
  /** What the column was split by, in one word. */
  readonly cluster: string;
  /** The ratio that takes no notice of clusters: between the other two. */
  readonly average: CoxColumn;
  /** One unit more between rows of one cluster. */
  readonly within: CoxColumn;
  /** One unit more in the mean of a cluster; for 0 and 1, all rows against none. */
  readonly between: CoxColumn;
  /** Wald test that within and between are the same, with the variance of the fit. */
  readonly difference: Answer<ModelTest>;
  readonly fits: { readonly average: CoxFit; readonly split: CoxFit };
}

/**
 * Is a hazard ratio the same among rows of one cluster as it is between clusters?
 *
 * A column is split into the mean of its cluster and the deviation from it, and both enter a Cox regression. What is particular to
 * a surgeon confounds the ratio between surgeons but not that within. A column that no cluster varies in has no ratio within, and
 * says so. Give rows before they are cut, so that every case counts once in the mean of its cluster; copies count.
 *
 * Source: Neuhaus and Kalbfleisch 1998; Begg and Parides 2003.
 *
 * @throws ArgumentError without a cluster, for an unknown term, one of several columns, and one that is part of an interaction.
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(1, 0, 1, 0, 1, 0), missing: new Uint8Array(6), missingReasons: [] } as const;
 * const matrix = modelMatrix([x], [numberTerm("x")]);
 * const rows = {
 *   exit: [1, 2, 3, 4, 5, 6],
 *   event: [1, 0, 1, 1, 0, 1],
 *   cluster: { codes: [0, 0, 1, 1, 1, 0], word: "surgeon" },
 * };
 * hazardRatiosWithinBetween(rows, matrix, { term: "x" }); // 2.562 on average, 3.302 within, 0.701 between
 */
export function hazardRatiosWithinBetween(
  data: ObservationColumns,
  matrix: ModelMatrix,
  options: WithinBetweenOptions,
): Answer<HazardRatiosWithinBetween> {
  const { term, average: known, ...fitOptions } = options;
  const found = namedTerm(WHERE, matrix, term);
  requireNoInteraction(WHERE, matrix, term);
  if (found.columns !== 1) {
    throw new ArgumentError(
      `${WHERE}: term "${term}" has ${found.columns} columns; only one column can be split`,
    );
  }
  const observations = checkObservations(data);
  const { cluster, weight } = observations;
  if (cluster === undefined) {
    throw new ArgumentError(`${WHERE}: the observations must name the cluster to split by`);
  }
  const average = averageFit(WHERE, observations, matrix, {
    ...fitOptions,
    ...(known && { average: known }),
  });
  if (!average.computed) return average;
  const codes = matrix.rows.map((row) => cluster.codes[row]!);
  const { within, between } = withinBetween(
    matrix.columns[found.from]!,
    { codes, word: cluster.word },
    weight && Float64Array.from(matrix.rows, (row) => weight.values[row]!),
  );
  const split = coxRegression(
    observations,
    {
      ...matrix,
      columns: matrix.columns.toSpliced(found.from, 1, within, between),
      terms: matrix.terms.map((own) => {
        if (own.name === term) return { ...own, columns: 2 };
        return own.from > found.from ? { ...own, from: own.from + 1 } : own;
      }),
    },
    fitOptions,
  );
  if (!split.computed) return split;
  // Both columns were put there.
  const [first, second] = [split.columns[found.from]!, split.columns[found.from + 1]!];
  return computed({
    kind: "hazardRatiosWithinBetween",
    term,
    cluster: cluster.word,
    average: average.columns[found.from]!,
    within: first,
    between: second,
    difference: differenceTest(split, first, second),
    fits: { average, split },
  });
}

const WHERE = "hazardRatiosWithinBetween";

function differenceTest(
  { estimated, covariance, settings }: CoxFit,
  within: CoxColumn,
  between: CoxColumn,
): Answer<ModelTest> {
  const [one, other] = [within.hazardRatio, between.hazardRatio];
  if (!one.computed || !other.computed) {
    return notComputed("not-estimable", "one of the two ratios is not estimable, so they cannot be compared");
  }
  const [j, k] = [estimated.indexOf(within.column), estimated.indexOf(between.column)];
  const variance = covariance[j]![j]! + covariance[k]![k]! - 2 * covariance[j]![k]!;
  const ground = groundOfColumns(settings, [within, between]);
  return quadraticTest([one.logRatio - other.logRatio], [[variance]], ground);
}
