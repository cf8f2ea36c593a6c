import {
  type CholeskyFactor,
  choleskyFactor,
  choleskySolve,
  type SymmetricMatrix,
} from "../numeric/symmetric-matrix.ts";
import type { Units } from "../survival/units.ts";
import type { CoxPoint } from "./cox-likelihood.ts";
import { ownInformation } from "./cox-own-information.ts";
import type { CoxRows } from "./cox-rows.ts";
import { type OwnPart, scoreFreedom } from "./score-freedom.ts";

// What is left of the information beside this share of it is rounding.
const NOTHING_LEFT = 1e-10;

/** Scores corrected for what each unit pulled towards itself, and how many units a variance made of them is as good as. */
export interface CorrectedScores {
  readonly scores: readonly Float64Array[];
  /** For a number that moves with the score by `byScore`: see `scoreFreedom`. */
  readonly freedom: (byScore: readonly number[]) => number;
}

/**
 * The score of each unit as it would be had the unit not pulled the fit towards itself: (I − A_c A⁻¹)⁻¹ u_c.
 *
 * u_c is the unit's summed score, A_c its own part of the information A. A unit without which nothing could be fitted has
 * nothing to be divided by and keeps its score.
 *
 * Source: the correction of Mancl and DeRouen 2001 for generalised estimating equations, whose leverage of a cluster is
 * A_c A⁻¹ when it is written for scores.
 */
export function scoresOverTheRest(
  rows: CoxRows,
  point: CoxPoint,
  values: readonly Float64Array[],
  scores: readonly Float64Array[],
  units: Units,
): CorrectedScores {
  const { information } = point;
  const corrected = scores.map((column) => column.slice());
  const parts: OwnPart[] = [];
  forEachUnit(rows, point, values, units, (unit, own) => {
    const rest = factorOfRest(information, own);
    parts.push({ own, rest });
    if (rest === undefined) return;
    // A (A − A_c)⁻¹ u, which is (I − A_c A⁻¹)⁻¹ u without an inverse.
    const solved = choleskySolve(
      rest,
      scores.map((column) => column[unit]!),
    );
    information.forEach((line, j) => {
      corrected[j]![unit] = line.reduce((sum, value, k) => sum + value * solved[k]!, 0);
    });
  });
  return { scores: corrected, freedom: scoreFreedom(information, parts) };
}

/** Each unit with rows, with its own part of the information. */
function forEachUnit(
  rows: CoxRows,
  point: CoxPoint,
  values: readonly Float64Array[],
  units: Units,
  take: (unit: number, own: SymmetricMatrix) => void,
): void {
  const own = ownInformation(rows, values, point);
  const { row, weight } = rows;
  const sum = values.map(() => new Float64Array(values.length));
  const { order, from } = rowsByUnit(rows, units);
  for (let unit = 0; unit < units.count; unit += 1) {
    const end = from[unit + 1]!;
    if (from[unit] === end) continue;
    for (const line of sum) line.fill(0);
    for (let at = from[unit]!; at < end; at += 1) {
      const i = order[at]!;
      // Copies that are units of their own are of one copy each: see `ownShares`.
      const root = weight === undefined ? 1 : units.factor(row[i]!) / weight[i]!;
      own.add(sum, i, root * root);
    }
    take(
      unit,
      sum.map((_, j) => sum.map((_, k) => sum[Math.max(j, k)]![Math.min(j, k)]!)),
    );
  }
}

function factorOfRest(information: SymmetricMatrix, own: SymmetricMatrix): CholeskyFactor | undefined {
  const rest = information.map((line, j) => line.map((value, k) => value - own[j]![k]!));
  if (rest.some((line, j) => !(line[j]! > NOTHING_LEFT * information[j]![j]!))) return undefined;
  return choleskyFactor(rest);
}

/** Places of the rows of each unit, by counting. */
function rowsByUnit({ count, row }: CoxRows, { codes, count: units }: Units) {
  const from = new Int32Array(units + 1);
  const unitOf = (i: number) => codes?.[row[i]!] ?? row[i]!;
  for (let i = 0; i < count; i += 1) from[unitOf(i) + 1]! += 1;
  for (let unit = 0; unit < units; unit += 1) from[unit + 1]! += from[unit]!;
  const order = new Int32Array(count);
  const next = from.slice();
  for (let i = 0; i < count; i += 1) order[next[unitOf(i)]!++] = i;
  return { order, from };
}
