import { ArgumentError } from "../base/errors.ts";
import { type SymmetricMatrix, symmetricInverse } from "../numeric/symmetric-matrix.ts";
import {
  CLUSTERS_OR_NONE,
  type ClustersOrNone,
  type Reference,
  referenceFor,
} from "../survival/few-clusters.ts";
import type { WeightKind } from "../survival/observations.ts";
import { COX_VARIANCES, type CoxVarianceKind } from "./cox-variance.ts";
import { type FitColumns, turned } from "./fit-columns.ts";
import type { OutcomeRows } from "./outcome-rows.ts";
import { weightedCrossProducts } from "./weighted-cross-products.ts";

export interface VarianceOptions {
  /** Default "clustered" where clusters are given, "robust" for sampling weights, else "model". */
  readonly variance?: CoxVarianceKind;
  /** "clusters" multiplies a variance over G clusters by G / (G − 1). Default "none". */
  readonly smallSample?: ClustersOrNone;
}

/** The variance in force, as results carry it. */
export interface VarianceSettings {
  readonly variance: CoxVarianceKind;
  /** What the variance is clustered on, and over how many; null without clusters. */
  readonly clusters: { readonly word: string; readonly count: number } | null;
  readonly smallSample: ClustersOrNone;
  readonly weights: WeightKind | null;
}

export function varianceSettings(
  where: string,
  { weight, cluster }: OutcomeRows,
  { variance: asked, smallSample = "none" }: VarianceOptions,
): VarianceSettings {
  const variance = asked ?? (cluster ? "clustered" : weight?.kind === "sampling" ? "robust" : "model");
  if (!COX_VARIANCES.includes(variance))
    throw new ArgumentError(`${where}: variance must be ${COX_VARIANCES.join(", ")}; received ${variance}`);
  if (!CLUSTERS_OR_NONE.includes(smallSample))
    throw new ArgumentError(
      `${where}: smallSample must be ${CLUSTERS_OR_NONE.join(" or ")}; received ${smallSample}`,
    );
  if (variance === "clustered" && cluster === undefined)
    throw new ArgumentError(`${where}: a clustered variance needs clusters; give them or ask for "robust"`);
  if (variance === "model" && weight?.kind === "sampling") {
    throw new ArgumentError(
      `${where}: sampling weights say nothing of how many rows there are, so no model-based variance exists; ask for "robust"`,
    );
  }
  const isClustered = variance === "clustered" && cluster !== undefined;
  return {
    variance,
    clusters: isClustered ? { word: cluster.word, count: cluster.count } : null,
    smallSample: isClustered ? smallSample : "none",
    weights: weight?.kind ?? null,
  };
}

/** Normal, or t on clusters − 1 below 30; undefined for one cluster. */
export function referenceOf({ clusters }: VarianceSettings, level: number): Reference | undefined {
  return referenceFor(clusters?.count ?? null, level);
}

/** A fit whose rows have shares of the score. */
export interface FittedPoint {
  readonly information: SymmetricMatrix;
  /** Weight · (observed − expected): times a column, the row's share of the score. */
  readonly residual: Float64Array;
}

/** Covariance of scaled coefficients: the model's, and the one asked for. Undefined where the information is singular. */
export function covariancesOfFit(
  { information, residual }: FittedPoint,
  { values }: FitColumns,
  rows: OutcomeRows,
  settings: VarianceSettings,
): { readonly model: number[][]; readonly asked: number[][] } | undefined {
  const model = symmetricInverse(information);
  if (model === undefined) return undefined;
  if (settings.variance === "model") return { model, asked: model };
  return { model, asked: turned(model, scoreSpread(values, residual, rows, settings)) };
}

/** Sum of squared shares of the score, by row or by cluster. A copy adds its own square; a sampling weight is squared. */
function scoreSpread(
  values: readonly Float64Array[],
  residual: Float64Array,
  { weight, cluster }: OutcomeRows,
  { variance, smallSample }: VarianceSettings,
): number[][] {
  if (variance === "robust" || cluster === undefined) {
    const copies = weight?.kind === "copies" ? weight.values : undefined;
    return weightedCrossProducts(
      values,
      residual.map((one, row) => (one * one) / (copies?.[row] ?? 1)),
    );
  }
  const { codes, count } = cluster;
  const shares = values.map((column) => {
    const sums = new Float64Array(count);
    // Codes are below the count.
    for (let row = 0; row < residual.length; row += 1) sums[codes[row]!]! += residual[row]! * column[row]!;
    return sums;
  });
  const factor = smallSample === "clusters" && count > 1 ? count / (count - 1) : 1;
  return weightedCrossProducts(shares, new Float64Array(count).fill(factor));
}
