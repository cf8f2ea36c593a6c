import { choleskyFactor, type SymmetricMatrix, symmetricInverse } from "../numeric/symmetric-matrix.ts";
import type { SmallSample } from "../survival/few-clusters.ts";
import type { Clusters } from "../survival/observations.ts";
import { independentUnits, type Units } from "../survival/units.ts";
import { scoreShares, sumsByUnit, sumsOfUnits } from "./cox-influence.ts";
import type { CoxPoint } from "./cox-likelihood.ts";
import { scoresOverTheRest } from "./cox-over-the-rest.ts";
import type { CoxRows } from "./cox-rows.ts";
import { crossedUnits, secondUnits } from "./two-way-units.ts";
import { weightedCrossProducts } from "./weighted-cross-products.ts";

/** What a standard error rests on: the model, rows or cases as independent units, or clusters. */
export const COX_VARIANCES = ["model", "robust", "clustered"] as const;
export type CoxVarianceKind = (typeof COX_VARIANCES)[number];

/** Sums of squared shares of the score, between units. */
export interface ScoreSpread {
  readonly matrix: SymmetricMatrix;
  /** Units with rows; for two ways the smaller number. */
  readonly units: number;
  /** For two ways: both numbers, and which matrix was taken. */
  readonly twoWay?: {
    readonly units: readonly [number, number];
    readonly taken: "two-way" | "first" | "second";
  };
}

/** Spread of the score over independent units: rows or cases ("robust") or clusters. */
export function scoreSpread(
  rows: CoxRows,
  point: CoxPoint,
  values: readonly Float64Array[],
  kind: Exclude<CoxVarianceKind, "model">,
  smallSample: SmallSample,
  second?: Clusters,
): ScoreSpread {
  const shares = values.map((column, j) => scoreShares(rows, point, column, j));
  const over = (units: Units) => {
    const { scores, seen, factor } = unitScores(rows, point, values, shares, units, smallSample);
    const matrix = weightedCrossProducts(scores, new Float64Array(scores[0]?.length ?? 0).fill(factor));
    return { matrix, units: seen };
  };
  const first = independentUnits(rows.observations, kind === "clustered");
  if (kind === "robust" || second === undefined) return over(first);
  const other = secondUnits(second, first, rows.observations.rows);
  const [one, two, both] = [over(first), over(other), over(crossedUnits(first, other))];
  const difference = one.matrix.map((line, j) =>
    line.map((value, k) => value + two.matrix[j]![k]! - both.matrix[j]![k]!),
  );
  const units = [one.units, two.units] as const;
  const fewer = Math.min(...units);
  if (choleskyFactor(difference) !== undefined) {
    return { matrix: difference, units: fewer, twoWay: { units, taken: "two-way" } };
  }
  const isFirst = relativeSize(one.matrix, point.information) >= relativeSize(two.matrix, point.information);
  return {
    matrix: isFirst ? one.matrix : two.matrix,
    units: fewer,
    twoWay: { units, taken: isFirst ? "first" : "second" },
  };
}

/** Each unit's summed score as the correction for few clusters asks, and the factor for its square. */
export function unitScores(
  rows: CoxRows,
  point: CoxPoint,
  values: readonly Float64Array[],
  shares: readonly Float64Array[],
  units: Units,
  smallSample: SmallSample,
): { readonly scores: readonly Float64Array[]; readonly seen: number; readonly factor: number } {
  const { sums, seen } = sumsForSpread(rows, shares, units, smallSample);
  return {
    scores: smallSample === "shares" ? scoresOverTheRest(rows, point, values, sums, units) : sums,
    seen,
    factor: smallSample === "clusters" && seen > 1 ? seen / (seen - 1) : 1,
  };
}

/** Sums by unit: in the order of the units where each is corrected by its own rows, else in any. */
export function sumsForSpread(
  rows: CoxRows,
  shares: readonly Float64Array[],
  units: Units,
  smallSample: SmallSample,
): ReturnType<typeof sumsOfUnits> {
  const found = sumsOfUnits(rows, shares, units);
  return smallSample === "shares" ? { ...found, sums: sumsByUnit(rows, shares, units) } : found;
}

/** information⁻¹ · spread · information⁻¹. */
export function sandwich(inverse: SymmetricMatrix, { matrix }: ScoreSpread): number[][] {
  const size = inverse.length;
  const half = inverse.map((line) =>
    Array.from({ length: size }, (_, k) => line.reduce((sum, value, m) => sum + value * matrix[m]![k]!, 0)),
  );
  return half.map((line, j) =>
    inverse.map((other, k) =>
      // Symmetric by construction, not only to rounding.
      k <= j ? dot(line, other) : dot(half[k]!, inverse[j]!),
    ),
  );
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, k) => sum + value * b[k]!, 0);
}

/** Trace beside the model's information, which no scaling of columns changes. */
function relativeSize(matrix: SymmetricMatrix, information: SymmetricMatrix): number {
  const inverse = symmetricInverse(information) ?? [];
  return inverse.reduce((sum, line, j) => sum + dot(line, matrix[j]!), 0);
}
