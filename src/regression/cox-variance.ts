import { choleskyFactor, type SymmetricMatrix, symmetricInverse } from "../numeric/symmetric-matrix.ts";
import type { SmallSample } from "../survival/few-clusters.ts";
import type { CoxPoint } from "./cox-likelihood.ts";
import type { CoxRows } from "./cox-rows.ts";
import { type UnitScores, type UnitWays, unitScores } from "./unit-scores.ts";
import { weightedCrossProducts } from "./weighted-cross-products.ts";

/** What a standard error rests on: the model, rows or cases as independent units, or clusters. */
export const COX_VARIANCES = ["model", "robust", "clustered"] as const;
export type CoxVarianceKind = (typeof COX_VARIANCES)[number];

/** Sums of squared shares of the score, between units. */
export interface ScoreSpread {
  readonly matrix: SymmetricMatrix;
  /** Units with rows; for two ways the smaller number. */
  readonly units: number;
  /** As in `UnitScores`; for two ways the smaller number. */
  readonly freedom?: (byScore: readonly number[]) => number;
  /** For two ways: both numbers, and which matrix was taken. */
  readonly twoWay?: {
    readonly units: readonly [number, number];
    readonly taken: "two-way" | "first" | "second";
  };
}

/** Spread of the score over independent units: rows or cases, or clusters of one way or two. */
export function scoreSpread(
  rows: CoxRows,
  point: CoxPoint,
  values: readonly Float64Array[],
  ways: UnitWays,
  smallSample: SmallSample,
): ScoreSpread {
  const spreads = unitScores(rows, point, values, ways, smallSample).map(spreadOf);
  // One for each way.
  const [one, two, both] = spreads as [ScoreSpread, ScoreSpread?, ScoreSpread?];
  if (two === undefined || both === undefined) return one;
  const difference = one.matrix.map((line, j) =>
    line.map((value, k) => value + two.matrix[j]![k]! - both.matrix[j]![k]!),
  );
  const units = [one.units, two.units] as const;
  const fewer = { units: Math.min(...units), ...smallerFreedom(one, two) };
  if (choleskyFactor(difference) !== undefined) {
    return { matrix: difference, ...fewer, twoWay: { units, taken: "two-way" } };
  }
  const isFirst = relativeSize(one.matrix, point.information) >= relativeSize(two.matrix, point.information);
  return {
    matrix: isFirst ? one.matrix : two.matrix,
    ...fewer,
    twoWay: { units, taken: isFirst ? "first" : "second" },
  };
}

type WithFreedom = Pick<UnitScores, "freedom">;

/** Of two ways the one that leaves fewer degrees of freedom, number by number. */
function smallerFreedom({ freedom: one }: WithFreedom, { freedom: two }: WithFreedom): WithFreedom {
  if (one === undefined || two === undefined) return {};
  return { freedom: (byScore) => Math.min(one(byScore), two(byScore)) };
}

function spreadOf({ sums, scores, factor, freedom }: UnitScores): ScoreSpread {
  const squares = new Float64Array(scores[0]?.length ?? 0).fill(factor);
  const matrix = weightedCrossProducts(scores, squares);
  return { matrix, units: sums.seen, ...(freedom && { freedom }) };
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
