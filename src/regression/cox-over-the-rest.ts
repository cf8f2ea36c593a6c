import { choleskyFactor, choleskySolve, type SymmetricMatrix } from "../numeric/symmetric-matrix.ts";
import type { Units } from "../survival/units.ts";
import type { CoxPoint } from "./cox-likelihood.ts";
import { ownInformation } from "./cox-own-information.ts";
import type { CoxRows } from "./cox-rows.ts";

// What is left of the information beside this share of it is rounding.
const NOTHING_LEFT = 1e-10;

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
): Float64Array[] {
  const own = ownInformation(rows, values, point);
  const { row, weight } = rows;
  const corrected = scores.map((column) => column.slice());
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
    const score = scores.map((column) => column[unit]!);
    overTheRest(point.information, sum, score).forEach((value, j) => {
      corrected[j]![unit] = value;
    });
  }
  return corrected;
}

/** A (A − A_c)⁻¹ u, which is (I − A_c A⁻¹)⁻¹ u without an inverse. */
function overTheRest(
  information: SymmetricMatrix,
  own: readonly Float64Array[],
  score: readonly number[],
): readonly number[] {
  const rest = information.map((line, j) =>
    line.map((value, k) => value - own[Math.max(j, k)]![Math.min(j, k)]!),
  );
  if (rest.some((line, j) => !(line[j]! > NOTHING_LEFT * information[j]![j]!))) return score;
  const factor = choleskyFactor(rest);
  if (factor === undefined) return score;
  const solved = choleskySolve(factor, score);
  return information.map((line) => line.reduce((sum, value, k) => sum + value * solved[k]!, 0));
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
