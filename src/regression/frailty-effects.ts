import { conjugateGradient, type GradientSolution } from "../numeric/conjugate-gradient.ts";
import { cellTerms, type SameDayRule } from "./cox-hazard.ts";
import type { CoxRows } from "./cox-rows.ts";
import { cellSums, eventSum, relativeHazards } from "./cox-sums.ts";
import { type FrailtyClusters, timesFrailty } from "./frailty-clusters.ts";
import { type FrailtyCurvature, frailtyCurvature } from "./frailty-curvature.ts";

/** Log frailties at the top of the penalised likelihood, the coefficients held. */
export interface FrailtyEffects {
  /** Log frailty of each cluster. */
  readonly log: Float64Array;
  readonly curvature: FrailtyCurvature;
  /** (information between log frailties, penalty included)⁻¹ times a vector. */
  readonly solve: (vector: Float64Array, relativeTolerance: number) => GradientSolution;
  readonly converged: boolean;
}

const [MOST_STEPS, MOST_HALVINGS] = [40, 30];
// A last step of 1e-9 standard errors, as in Newton's method elsewhere. While searching one of 1e-5, since it squares the error.
const SETTLED = { searching: 1e-10, settled: 1e-18 } as const;
// Each step is solved well enough to square the error.
const STEP_TOLERANCE = 1e-5;

/** Whether a point is one of a search, or the one that is reported. */
export type Following = keyof typeof SETTLED;
// A fall within the rounding of the likelihood is no fall.
const ROUNDING = 1e-12;

/**
 * Newton's method over the log frailties ω of gamma frailties with variance 1/ν: partial likelihood plus ν Σ (ω + 1 − exp ω),
 * which is highest where each frailty is (ν + events)/(ν + expected).
 */
export function frailtyEffects(
  rows: CoxRows,
  clusters: FrailtyClusters,
  rule: Exclude<SameDayRule, "exact">,
  predictor: Float64Array,
  precision: number,
  start: Float64Array,
  following: Following,
): FrailtyEffects {
  const { events } = clusters;
  const plain = relativeHazards(rows, [], [], predictor);
  const eventPredictor = eventSum(rows, predictor);
  const at = (log: Float64Array) => {
    const relative = timesFrailty(clusters, plain, log);
    const terms = cellTerms(rule, rows.cells, cellSums(rows, relative));
    const ofFrailties = log.reduce((sum, value, own) => sum + events[own]! * value, 0);
    const likelihood = eventPredictor + ofFrailties + terms.logLikelihood + precision * penalty(log);
    return { log, relative, terms, likelihood };
  };
  let here = at(start);
  for (let step = 0; ; step += 1) {
    const { log } = here;
    const curvature = frailtyCurvature(rows, clusters, here.relative, here.terms);
    const solve = solverAt(curvature, log, precision);
    const slope = log.map(
      (value, own) => events[own]! - curvature.expected[own]! - precision * Math.expm1(value),
    );
    const { solution } = solve(slope, STEP_TOLERANCE);
    const decrement = slope.reduce((sum, value, own) => sum + value * solution[own]!, 0);
    const moved = (share: number) => log.map((value, own) => value + share * solution[own]!);
    const done = (converged: boolean) => ({ log: converged ? moved(1) : log, curvature, solve, converged });
    if (decrement <= SETTLED[following]) return done(true);
    if (step === MOST_STEPS) return done(false);
    const least = here.likelihood - ROUNDING * (1 + Math.abs(here.likelihood));
    let [share, halvings] = [1, 0];
    let next = at(moved(1));
    while (!(next.likelihood >= least)) {
      if (halvings === MOST_HALVINGS) return done(false);
      share /= 2;
      halvings += 1;
      next = at(moved(share));
    }
    here = next;
  }
}

/** Σ (ω + 1 − exp ω). */
export function penalty(log: Float64Array): number {
  return log.reduce((sum, value) => sum + (value - Math.expm1(value)), 0);
}

/**
 * The information between log frailties is diag(expected) less what clusters share of each risk set, plus the penalty's. Were
 * the clusters' shares the same at every event, what is subtracted would be expected · expectedᵀ / Σ expected: that matrix, easily
 * inverted, is the preconditioner, and a few steps are enough.
 */
function solverAt(
  curvature: FrailtyCurvature,
  log: Float64Array,
  precision: number,
): FrailtyEffects["solve"] {
  const { expected, alongClusters } = curvature;
  const pull = log.map((value) => precision * Math.exp(value));
  const diagonal = expected.map((value, own) => value + pull[own]!);
  const share = expected.map((value, own) => value / diagonal[own]!);
  const rest = expected.reduce((sum, value, own) => sum + (value * pull[own]!) / diagonal[own]!, 0);
  const precondition = (vector: Float64Array) => {
    const along = vector.reduce((sum, value, own) => sum + share[own]! * value, 0) / rest;
    return vector.map((value, own) => value / diagonal[own]! + share[own]! * along);
  };
  const apply = (vector: Float64Array) => {
    const moved = alongClusters(vector);
    return moved.map((value, own) => value + pull[own]! * vector[own]!);
  };
  return (vector, relativeTolerance) => conjugateGradient(apply, vector, precondition, { relativeTolerance });
}
