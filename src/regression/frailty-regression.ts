import { type Answer, computed, type NotComputed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import { chiSquareUpper, chiSquareUpperQuantile } from "../numeric/chi-square.ts";
import { symmetricInverse } from "../numeric/symmetric-matrix.ts";
import { normalReference } from "../survival/few-clusters.ts";
import type { ObservationColumns } from "../survival/observations.ts";
import { plainNumbers } from "../survival/plain-numbers.ts";
import { coxColumns, termTests } from "./cox-columns.ts";
import type { SameDayRule } from "./cox-hazard.ts";
import { type CoxMaximum, coxMaximum, sumsOf } from "./cox-maximum.ts";
import { type CoxRows, coxRows } from "./cox-rows.ts";
import { MODEL_GROUND } from "./cox-tests.ts";
import { type FrailtyClusters, frailtyClusters } from "./frailty-clusters.ts";
import { frailtyNotes } from "./frailty-notes.ts";
import type { FrailtyFit, ProfiledNumber } from "./frailty-result.ts";
import { expectedEvents, slopeAtZero } from "./frailty-start.ts";
import {
  type FrailtyFitAt,
  type FrailtyFits,
  frailtyFits,
  likeliestVariance,
  varianceLimits,
} from "./frailty-variance.ts";
import { medianHazardRatio } from "./median-hazard-ratio.ts";
import type { ModelMatrix } from "./model-matrix.ts";

export interface FrailtyOptions {
  /** Causes counted as events; the others end follow-up. Default all. */
  readonly event?: readonly string[];
  /** How events on one tick share their risk set. Default "efron". */
  readonly sameDay?: Exclude<SameDayRule, "exact">;
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
  /** Fewer clusters than this with two events or more are no ground for a variance between clusters. Default 2. */
  readonly fewestWithTwoEvents?: number;
}

/**
 * By what factor the hazard goes up with each column between rows of one cluster, and how much clusters differ: Cox regression
 * in which all rows of a cluster share an unseen factor, the frailty, gamma with mean 1.
 *
 * At risk is (entry, exit]; events of one tick share its risk set by "efron" or "breslow"; strata have baselines of their own. The
 * variance θ of the frailty is where the likelihood, integrated over the frailties, is highest. It has profile limits and a
 * likelihood-ratio test of 0, whose p is half the usual one (a mixture of chi-square on 0 and on 1 degree of freedom). A θ of 0
 * is said to be 0, and the ratios are then those of `coxRegression`. Standard errors are from the observed information of the
 * integrated likelihood with θ held at its estimate, normal, whatever the number of clusters.
 *
 * The median hazard ratio is by what factor, larger over smaller, the hazards of two random clusters differ in half of all draws.
 * With delayed entry frailties are taken as gamma among those who enter. Copies count; sampling weights are refused. A separated
 * column leaves no answer: see `coxRegression`.
 *
 * Cost grows linearly with rows and with clusters, so a cluster may be a surgeon or a patient.
 *
 * Source: Klein 1992; Therneau, Grambsch and Pankratz 2003 (the penalised form); Self and Liang 1987 (the test).
 *
 * @throws ArgumentError without a cluster, for sampling weights, and for a model and observations that do not fit together.
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(1, 0, 1, 0, 1, 0), missing: new Uint8Array(6), missingReasons: [] } as const;
 * const matrix = modelMatrix([x], [numberTerm("x")]);
 * const rows = {
 *   exit: [1, 2, 3, 4, 5, 6],
 *   event: [1, 0, 1, 1, 0, 1],
 *   cluster: { codes: [0, 0, 1, 1, 2, 2], word: "surgeon" },
 * };
 * frailtyRegression(rows, matrix); // "too few clusters have two events or more to tell a frailty from chance"
 */
export function frailtyRegression(
  columns: ObservationColumns,
  matrix: ModelMatrix,
  options: FrailtyOptions = {},
): Answer<FrailtyFit> {
  const { sameDay = "efron", level = 0.95, fewestWithTwoEvents = 2 } = options;
  requireLevel("frailtyRegression", level);
  requireRule(sameDay);
  requireCount(fewestWithTwoEvents);
  const rows = coxRows("frailtyRegression", columns, matrix, options.event);
  const clusters = frailtyClusters(rows, clusterCodes(rows));
  const refusal = tooLittle(rows, clusters, fewestWithTwoEvents);
  if (refusal !== undefined) return refusal;
  const plain = coxMaximum(rows, sameDay, [...rows.columns.keys()]);
  const without = unusable(rows, plain);
  if (without !== undefined) return without;
  const values = plain.estimated.map((column) => rows.columns[column]!.values);
  const expected = expectedEvents(rows, plain, clusters);
  const fitAt = frailtyFits({ rows, clusters, rule: sameDay, values }, plain.beta, expected);
  const variance = likeliestVariance(fitAt, slopeAtZero(clusters, expected));
  if (variance === undefined) {
    return notComputed(
      "variance-without-limit",
      "the likelihood rises with the variance of the frailty for ever: each cluster has its events at one time or none",
    );
  }
  const found = variance > 0 ? fitAt(variance, "settled") : undefined;
  const best =
    found !== undefined && found.point.logLikelihood > plain.point.logLikelihood ? found : undefined;
  return fitOf(rows, matrix, clusters, plain, best, fitAt, { sameDay, level, fewestWithTwoEvents });
}

type Settings = Required<Pick<FrailtyOptions, "sameDay" | "level" | "fewestWithTwoEvents">>;

/** Of the fit at the likeliest variance; without one, of the plain fit, whose variance is 0. */
function fitOf(
  rows: CoxRows,
  matrix: ModelMatrix,
  clusters: FrailtyClusters,
  plain: CoxMaximum,
  best: FrailtyFitAt | undefined,
  fitAt: FrailtyFits,
  { sameDay, level, fewestWithTwoEvents }: Settings,
): Answer<FrailtyFit> {
  const { point, report } = best ?? plain;
  const inverse = symmetricInverse(point.information);
  if (!report.converged || best?.point.effects.converged === false || inverse === undefined) {
    return notComputed(
      "not-converged",
      `the iteration did not find the highest likelihood (${report.reason})`,
    );
  }
  const theta = best?.variance ?? 0;
  const [top, atZero] = [point.logLikelihood, plain.point.logLikelihood];
  const fall = chiSquareUpperQuantile(1 - level, 1);
  const limits = varianceLimits(fitAt, theta, { top, atZero, fall });
  const chiSquare = Math.max(0, 2 * (top - atZero));
  const found = { ...plain, beta: best?.beta ?? plain.beta };
  const scales = plain.estimated.map((column) => rows.columns[column]!.scale);
  const { observations } = rows;
  const base = {
    kind: "frailtyRegression" as const,
    settings: {
      sameDay,
      event: rows.event,
      level,
      cluster: observations.cluster?.word ?? "",
      fewestWithTwoEvents,
      stratified: observations.stratum.labels.length > 1,
      delayedEntry: observations.entry?.some((tick) => tick >= 0) ?? false,
    },
    events: sum(clusters.events),
    clusters: {
      count: clusters.count,
      withEvents: clusters.withMore[0] ?? 0,
      withTwoEvents: clusters.withMore[1] ?? 0,
    },
    variance: profiled(theta, limits, (value) => value),
  };
  return computed({
    ...base,
    timeUnit: observations.timeUnit,
    rows: rows.count,
    columns: coxColumns(rows, found, inverse, matrix, () => normalReference(level), { sameDay, level }),
    terms: termTests(found, inverse, matrix, MODEL_GROUND),
    estimated: plain.estimated.map((column) => rows.columns[column]!.name),
    covariance: inverse.map((line, j) => line.map((value, k) => value / (scales[j]! * scales[k]!))),
    varianceTest: { chiSquare, p: chiSquare > 0 ? chiSquareUpper(chiSquare, 1) / 2 : 1 },
    medianHazardRatio: profiled(theta, limits, medianHazardRatio),
    frailties: {
      firstRow: plainNumbers(clusters.firstRow),
      events: plainNumbers(clusters.events),
      frailty: Array.from(clusters.events, (_, own) => Math.exp(best?.point.effects.log[own] ?? 0)),
    },
    logLikelihood: top,
    logLikelihoodWithout: atZero,
    fit: report,
    notes: frailtyNotes(base, plain.estimated.length),
    lost: matrix.lost,
  } satisfies FrailtyFit);
}

function requireRule(sameDay: string): void {
  if (sameDay === "efron" || sameDay === "breslow") return;
  throw new ArgumentError('frailtyRegression: sameDay must be "efron" or "breslow"');
}

function requireCount(fewest: number): void {
  if (Number.isSafeInteger(fewest) && fewest >= 0) return;
  throw new ArgumentError(
    `frailtyRegression: fewestWithTwoEvents must be a whole number from 0 up; received ${fewest}`,
  );
}

function clusterCodes({ observations }: CoxRows): Int32Array {
  const { cluster, weight } = observations;
  if (cluster === undefined) {
    throw new ArgumentError(
      "frailtyRegression: the observations must name the cluster that shares a frailty",
    );
  }
  if (weight?.kind === "sampling") {
    throw new ArgumentError(
      'frailtyRegression: sampling weights have no likelihood to integrate; use coxRegression with the variance "clustered"',
    );
  }
  return cluster.codes;
}

function tooLittle(
  rows: CoxRows,
  { count, withMore }: FrailtyClusters,
  fewest: number,
): NotComputed | undefined {
  if (rows.count === 0) return notComputed("no-rows", "no row of the model has follow-up and weight");
  if (rows.eventRows.length === 0) return notComputed("no-events", "no event was seen");
  if (count < 2)
    return notComputed("too-few-clusters", "one cluster holds every row; a frailty needs at least two");
  const repeats = withMore[1] ?? 0;
  if (repeats >= fewest) return undefined;
  return notComputed(
    "too-few-repeats",
    "too few clusters have two events or more to tell a frailty from chance",
  );
}

function unusable(
  rows: CoxRows,
  { estimated, notEstimable, report, point }: CoxMaximum,
): NotComputed | undefined {
  const separated = [...notEstimable].find(([, { reason }]) => reason === "separation");
  if (separated !== undefined) {
    const name = rows.columns[separated[0]]?.name ?? "";
    return notComputed(
      "separation",
      `"${name}" is separated; leave it out, and see coxRegression for what can be said of it`,
    );
  }
  if (rows.eventRows.length < estimated.length) {
    return notComputed(
      "fewer-events-than-parameters",
      "fewer events than coefficients; leave columns out or give rates only",
    );
  }
  if (report.converged && sumsOf(point) !== undefined) return undefined;
  return notComputed("not-converged", `the fit without a frailty did not come to an end (${report.reason})`);
}

function profiled(
  theta: number,
  { lower, upper }: ReturnType<typeof varianceLimits>,
  of: (variance: number) => number,
): ProfiledNumber {
  return {
    estimate: of(theta),
    lower: of(lower),
    upper:
      upper === undefined
        ? notComputed("no-limit", "the likelihood never falls far enough to give an upper limit")
        : computed({ value: of(upper) }),
  };
}

function sum(values: Int32Array): number {
  return values.reduce((total, value) => total + value, 0);
}
