import type { LikelihoodPoint } from "../numeric/newton.ts";
import type { SameDayRule } from "./cox-hazard.ts";
import { coxLikelihood } from "./cox-likelihood.ts";
import type { CoxRows } from "./cox-rows.ts";
import { byPlace, type FrailtyClusters } from "./frailty-clusters.ts";
import { type Following, type FrailtyEffects, frailtyEffects, penalty } from "./frailty-effects.ts";
import { linearPredictor, productSum } from "./linear-predictor.ts";

/** The integrated likelihood at one point of the coefficients, with the log frailties that go with it. */
export interface FrailtyPoint extends LikelihoodPoint {
  readonly effects: FrailtyEffects;
  /** Log frailties where they would be if they followed the coefficients in a straight line from here. */
  readonly followedTo: (beta: ArrayLike<number>) => Float64Array;
}

/** What a frailty fit is made on. */
export interface FrailtyModel {
  readonly rows: CoxRows;
  readonly clusters: FrailtyClusters;
  readonly rule: Exclude<SameDayRule, "exact">;
  readonly values: readonly Float64Array[];
}

// Well enough to climb by; and so that the information is known to some nine figures off its diagonal too.
const FOLLOWED = { searching: 1e-4, settled: 1e-11 } as const;

/**
 * The log-likelihood of the coefficients with gamma frailties of one variance integrated out and the baseline at its highest.
 *
 * Profiled over the log frailties, partial likelihood plus penalty has the same derivatives, so that its information, with what
 * the frailties take up taken away, is the observed one of the integrated likelihood. On a scale on which it meets the partial
 * likelihood as the variance goes to 0.
 */
export function frailtyLikelihood(
  { rows, clusters, rule, values }: FrailtyModel,
  variance: number,
  start: Float64Array,
  following: Following,
): (beta: ArrayLike<number>) => FrailtyPoint {
  const precision = 1 / variance;
  const constant = integrationConstant(clusters, variance);
  let startAt: FrailtyPoint["followedTo"] = () => start;
  return (beta) => {
    const predictor = linearPredictor(values, beta, rows.count);
    const begin = startAt(beta);
    const effects = frailtyEffects(rows, clusters, rule, predictor, precision, begin, following);
    const point = coxLikelihood(rows, rule, values, beta, byPlace(clusters, effects.log));
    const across = values.map((column) => effects.curvature.along(column));
    // By how much each log frailty falls as a coefficient grows.
    const solved = across.map((column) => effects.solve(column, FOLLOWED[following]));
    const lead = solved.map(({ solution }) => solution);
    const from = Array.from(beta);
    startAt = (to) => followed(effects.log, lead, from, to);
    return {
      logLikelihood: point.logLikelihood + precision * penalty(effects.log) + constant,
      score: point.score,
      information: point.information.map((line, j) =>
        line.map((value, k) => value - productSum(across[Math.max(j, k)]!, lead[Math.min(j, k)]!)),
      ),
      effects: {
        ...effects,
        converged: effects.converged && solved.every(({ converged }) => converged),
      },
      followedTo: startAt,
    };
  };
}

function followed(
  log: Float64Array,
  lead: readonly Float64Array[],
  from: readonly number[],
  to: ArrayLike<number>,
): Float64Array {
  return log.map((value, cluster) =>
    lead.reduce((sum, column, j) => sum - column[cluster]! * ((to[j] ?? 0) - from[j]!), value),
  );
}

/** Σ over clusters of d − (ν + d) log(1 + d/ν) + log Γ(ν + d) / Γ(ν) − d log ν, with ν one over the variance. */
function integrationConstant({ events, withMore }: FrailtyClusters, variance: number): number {
  const first = events.reduce(
    (sum, own) => sum + (own - (1 / variance + own) * Math.log1p(own * variance)),
    0,
  );
  return withMore.reduce((sum, clusters, k) => sum + clusters * Math.log1p(k * variance), first);
}

/** Derivative of the highest integrated likelihood by the variance: what is at its top does not count. */
export function slopeByVariance({ clusters }: FrailtyModel, log: Float64Array, variance: number): number {
  const { events, withMore } = clusters;
  const first = events.reduce((sum, own) => sum - Math.log1p(own * variance), penalty(log));
  const byPrecision = withMore.reduce(
    (sum, count, k) => sum + (count * variance) / (1 + k * variance),
    first,
  );
  return -byPrecision / (variance * variance);
}
