import type { LikelihoodPoint } from "../numeric/newton.ts";
import { runningSums } from "./cox-cells.ts";
import { type CellTerms, cellTerms } from "./cox-hazard.ts";
import { expectedSum, informationOf } from "./cox-likelihood.ts";
import { type RiskSums, riskSums } from "./cox-sums.ts";
import type { FineGrayRows } from "./fine-gray-rows.ts";
import { weightedCrossProducts } from "./weighted-cross-products.ts";

/** The weighted log partial likelihood at one point. */
export interface FineGrayPoint extends LikelihoodPoint {
  readonly sums: RiskSums;
  readonly terms: CellTerms;
}

/**
 * Log partial likelihood in which somebody with a competing event at T stays at risk at t > T with weight K(t) / K(T), K
 * being the curve of staying under observation.
 *
 * Their part of a risk set is K(t) times a running sum of what each brings divided by K(T), so that no row is expanded and
 * the cost is rows × columns², whatever the number of ticks. Events of one tick share its risk set (Breslow).
 */
export function fineGrayLikelihood(frame: FineGrayRows, beta: ArrayLike<number>): FineGrayPoint {
  const { rows, values } = frame;
  const sums = riskSums(rows, values, beta);
  addCompeting(frame, sums);
  const terms = cellTerms("breslow", rows.cells, sums);
  const own = informationOf(rows, values, sums, terms);
  const beyond = weightedCrossProducts(
    frame.competingValues,
    exposureBeyond(frame, sums, passedByStratum(frame, terms.hazard)),
  );
  return {
    logLikelihood: sums.eventPredictor + terms.logLikelihood,
    score: sums.observed.map((observed, j) => observed - expectedSum(sums, terms, j)),
    information: own.map((line, j) => line.map((value, k) => value + beyond[j]![k]!)),
    sums,
    terms,
  };
}

/** Adds, to each cell, what those bring who had a competing event before it. */
function addCompeting(frame: FineGrayRows, sums: RiskSums): void {
  addBrought(frame, sums.atRisk, broughtBy(frame, sums.relative));
  frame.competingValues.forEach((column, j) => {
    addBrought(frame, sums.atRiskBy[j]!, broughtBy(frame, sums.relative, column));
  });
}

function addBrought({ stayed }: FineGrayRows, target: Float64Array, brought: readonly Float64Array[]): void {
  brought.forEach((bins, own) => {
    const curve = stayed[own]!;
    let soFar = 0;
    for (let cell = 0; cell < target.length; cell += 1) {
      target[cell]! += soFar * curve[cell]!;
      soFar += bins[cell]!;
    }
  });
}

/** By stratum and cell: Σ relative · column / K(T) over competing events there. */
function broughtBy(
  { rows, stratum, competing, stayedAtExit, stayed }: FineGrayRows,
  relative: Float64Array,
  column?: Float64Array,
): Float64Array[] {
  const brought = stayed.map(() => new Float64Array(rows.cells.count));
  for (let at = 0; at < competing.length; at += 1) {
    // Places, strata and cells are in range.
    const place = competing[at]!;
    const share = relative[place]! / stayedAtExit[at]!;
    brought[stratum[place]!]![rows.exitCell[place]!]! += column === undefined ? share : share * column[at]!;
  }
  return brought;
}

/** relative / K(T) · Σ K · hazard over the cells after each competing event; `passed` are running sums of K · hazard. */
export function exposureBeyond(
  { rows, stratum, competing, stayedAtExit }: FineGrayRows,
  { relative }: RiskSums,
  passed: readonly Float64Array[],
): Float64Array {
  const last = rows.cells.count - 1;
  const exposure = new Float64Array(competing.length);
  for (let at = 0; at < exposure.length; at += 1) {
    const place = competing[at]!;
    const own = passed[stratum[place]!]!;
    exposure[at] = (relative[place]! / stayedAtExit[at]!) * (own[last]! - own[rows.exitCell[place]!]!);
  }
  return exposure;
}

/** By stratum: running sums over cells of K · step. */
export function passedByStratum({ rows, stayed }: FineGrayRows, step: Float64Array): Float64Array[] {
  return stayed.map((own) =>
    runningSums(
      rows.cells,
      step.map((value, cell) => value * own[cell]!),
    ),
  );
}
