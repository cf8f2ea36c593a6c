import { type Answer, computed, type NotComputed, notComputed } from "../base/answer.ts";
import { yearsOfTicks } from "../base/time-unit.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import { checkObservations } from "./check-observations.ts";
import { type Contrast, type DifferenceContrast, differenceContrast, ratioContrast } from "./contrast.ts";
import { eventIndexes, netRoles } from "./event-roles.ts";
import { type Reference, referenceFor, requireSharesOrNone, type SharesOrNone } from "./few-clusters.ts";
import type { ObservationColumns } from "./observations.ts";
import { overTheRest } from "./over-the-rest.ts";
import { type RateSpan, rateSpans } from "./rate-spans.ts";
import type { RateOptions } from "./revision-rate.ts";
import { sharesFreedom } from "./shares-freedom.ts";
import { type UnitTotals, unitTotals } from "./unit-totals.ts";
import { independentUnits } from "./units.ts";

/** Rate of one group in one period, in events per 100 unit-years. */
export interface ClusteredRatePeriod {
  readonly group: string;
  /** (fromYear, toYear]; toYear null = no upper end. */
  readonly fromYear: number;
  readonly toYear: number | null;
  /** Weighted where there are weights. */
  readonly events: number;
  readonly unitYears: number;
  readonly rate: Answer<{
    readonly per100: number;
    readonly standardErrorOfLog: number;
    readonly lower: number;
    readonly upper: number;
    /** Clusters under observation in the period; null where rows are not clustered. */
    readonly clusters: number | null;
    /** Degrees of freedom of the t in use; null means normal. */
    readonly degreesOfFreedom: number | null;
  }>;
}

/** First group against a later one in one period: first over later, first minus later. */
export interface ClusteredRateComparison {
  readonly groups: readonly [string, string];
  readonly fromYear: number;
  readonly toYear: number | null;
  readonly comparison: Answer<{
    readonly ratio: Answer<Contrast>;
    /** Per 100 unit-years. */
    readonly difference: DifferenceContrast;
    readonly clusters: number | null;
  }>;
}

export interface ClusteredRate {
  readonly kind: "clusteredRate";
  readonly settings: {
    readonly level: number;
    readonly event: readonly string[];
    readonly clusteredBy: string | null;
    /** Left out where rows are not clustered. */
    readonly smallSample?: SharesOrNone;
  };
  /** Over groups, then periods. */
  readonly periods: readonly ClusteredRatePeriod[];
  /** Over later groups, then periods. */
  readonly comparisons: readonly ClusteredRateComparison[];
}

export interface ClusteredRateOptions extends Omit<RateOptions, "method"> {
  /** How the variance over clusters is widened when clusters are few. Default "none". */
  readonly smallSample?: SharesOrNone;
}

/**
 * Events per 100 unit-years by group and declared period, with the variance taken over clusters of rows.
 *
 * Periods as in `revisionRate`. The variance of the log rate is Σ over clusters of (events − rate × time)² over squared
 * events; with `smallSample` "shares" each cluster's part is first divided by one minus its share of the group's time in
 * the period. In comparisons a cluster's parts of both groups are put together before squaring.
 * Limits of rate and ratio are symmetric on the log scale, those of the difference on the plain one; below 30 clusters
 * they use t on clusters − 1 ("shares": on `sharesFreedom` always, ratio and difference each on its own). Without clusters each case is its own, which is the variance for sampling weights. A period
 * without an event has no log rate: `revisionRate` gives its exact upper limit.
 *
 * Source: the sandwich variance of a Poisson regression with time as offset; Huber 1967; Liang and Zeger 1986.
 *
 * @example
 * const rows = {
 *   exit: [1, 2, 3, 4, 5, 6, 7, 8],
 *   event: [1, 0, 1, 1, 0, 1, 0, 1],
 *   group: { codes: [0, 0, 0, 0, 1, 1, 1, 1], labels: ["a", "b"] },
 *   cluster: { codes: [0, 1, 2, 3, 0, 1, 2, 3], word: "surgeon" },
 *   timeUnit: TIME_UNITS.year,
 * };
 * clusteredRate(rows, { periods: [] }).periods[0]; // 3 events in 10 unit-years; per hundred 30, 11.0 to 82.1
 */
export function clusteredRate(
  columns: ObservationColumns,
  options: ClusteredRateOptions = {},
): ClusteredRate {
  const observations = checkObservations(columns);
  const { causes, timeUnit, group } = observations;
  const { event = causes, periods = [], level = 0.95, smallSample = "none" } = options;
  requireLevel("clusteredRate", level);
  requireSharesOrNone("clusteredRate", smallSample);
  const { wanted } = netRoles(causes, eventIndexes("clusteredRate", causes, event));
  const units = independentUnits(observations, true);
  const sides = rateSpans("clusteredRate", periods, timeUnit).map((span) => ({
    span,
    groups: unitTotals(observations, wanted, span, units).map((totals, at) =>
      sideOf(group.labels[at] ?? "", totals, {
        inYears: (ticks) => yearsOfTicks(ticks, timeUnit),
        widened: units.word !== null && smallSample === "shares",
      }),
    ),
  }));
  const clustersOf = (seen: (unit: number) => boolean) =>
    units.word === null ? null : countUnits(units.count, seen);
  const hasSpread = ({ seen }: Side) => (clustersOf((unit) => seen[unit] === 1) ?? 2) > 1;
  return {
    kind: "clusteredRate",
    settings: {
      level,
      event: [...event],
      clusteredBy: units.word,
      ...(units.word !== null && { smallSample }),
    },
    periods: group.labels.flatMap((_, at) =>
      sides.map(({ span, groups }) => {
        const side = groups[at]!; // One side a group was made above.
        const clusters = clustersOf((unit) => side.seen[unit] === 1);
        return ratePeriod(side, span, clusters, referenceFor(clusters, level, freedomOf([[side, 1]])));
      }),
    ),
    comparisons: group.labels.slice(1).flatMap((_, later) =>
      sides.map(({ span, groups }) => {
        const [first, second] = [groups[0]!, groups[later + 1]!];
        const clusters = clustersOf((unit) => first.seen[unit] === 1 || second.seen[unit] === 1);
        return {
          groups: [first.group, second.group] as const,
          fromYear: span.fromYear,
          toYear: span.toYear,
          comparison: compared(
            first,
            second,
            clusters,
            // A cluster that is its whole group does not move its own rate, so the group would pass for known.
            (alpha, beta) =>
              [first, second].every(hasSpread)
                ? referenceFor(
                    clusters,
                    level,
                    freedomOf([
                      [first, alpha],
                      [second, beta],
                    ]),
                  )
                : undefined,
          ),
        };
      }),
    ),
  };
}

/** One group in one period. */
interface Side {
  readonly group: string;
  readonly events: number;
  readonly unitYears: number;
  readonly per100: number;
  /** By unit: events minus rate times time, widened where asked for. */
  readonly excess: Float64Array;
  /** Of the time at risk, by unit; where the excess was widened by it. */
  readonly shares: Float64Array | undefined;
  readonly seen: Uint8Array;
}

function sideOf(
  group: string,
  totals: UnitTotals,
  { inYears, widened }: { readonly inYears: (ticks: number) => number; readonly widened: boolean },
): Side {
  const { events, ticks, ticksOf } = totals;
  const perTick = ticks > 0 ? events / ticks : 0;
  const excess = totals.eventsOf.map((own, unit) => own - perTick * (ticksOf[unit] ?? 0));
  const shares = widened && ticks > 0 ? ticksOf.map((own) => own / ticks) : undefined;
  return {
    group,
    events,
    unitYears: inYears(ticks),
    per100: ticks > 0 ? (100 * events) / inYears(ticks) : 0,
    excess: shares === undefined ? excess : overTheRest(excess, shares),
    shares,
    seen: totals.seen,
  };
}

/**
 * Each side with the factor that its excess enters by. Were rows independent the variance of an excess would be the events;
 * sides without any have no rate.
 */
function freedomOf(sides: readonly (readonly [Side, number])[]): number | undefined {
  const shared = sides.flatMap(([{ shares, events }, factor]) =>
    shares === undefined || events === 0 ? [] : [{ shares, variance: factor * factor * events }],
  );
  return shared.length === sides.length ? sharesFreedom(shared) : undefined;
}

function countUnits(units: number, seen: (unit: number) => boolean): number {
  let count = 0;
  for (let unit = 0; unit < units; unit += 1) if (seen(unit)) count += 1;
  return count;
}

const NO_SPREAD = notComputed("no-spread", "the clusters leave no independent variation");
// Excesses add up to nothing, so clusters that share nothing may still leave rounding errors.
const LEAST_SPREAD = 1e-12;

function ratePeriod(
  side: Side,
  { fromYear, toYear }: RateSpan,
  clusters: number | null,
  reference: Reference | undefined,
): ClusteredRatePeriod {
  const { group, events, unitYears, per100 } = side;
  return { group, fromYear, toYear, events, unitYears, rate: rateOf() };

  function rateOf(): ClusteredRatePeriod["rate"] {
    const refusal = refusalOf(side);
    if (refusal !== undefined) return refusal;
    if (reference === undefined) return oneCluster();
    const error = combined(side, side, 1 / events, 0);
    if (!(error > LEAST_SPREAD)) return NO_SPREAD;
    const factor = Math.exp(reference.quantile * error);
    if (!Number.isFinite(per100 * factor))
      return notComputed("limits-beyond-numbers", "too few clusters to bound the rate");
    return computed({
      per100,
      standardErrorOfLog: error,
      lower: per100 / factor,
      upper: per100 * factor,
      clusters,
      degreesOfFreedom: reference.degreesOfFreedom,
    });
  }
}

function compared(
  first: Side,
  second: Side,
  clusters: number | null,
  referenceOf: (alpha: number, beta: number) => Reference | undefined,
): ClusteredRateComparison["comparison"] {
  const refusal = refusalOf(first) ?? refusalOf(second);
  if (refusal !== undefined) return refusal;
  const [ofRatio, ofDifference] = [
    [1 / first.events, -1 / second.events],
    [100 / first.unitYears, -100 / second.unitYears],
  ] as const;
  // Each weighs the two groups in its own way, and so leaves degrees of freedom of its own.
  const [onLog, onPlain] = [referenceOf(...ofRatio), referenceOf(...ofDifference)];
  if (onLog === undefined || onPlain === undefined) return oneCluster();
  const errorOfLog = combined(first, second, ...ofRatio);
  const error = combined(first, second, ...ofDifference);
  if (!(errorOfLog > LEAST_SPREAD && error > LEAST_SPREAD * Math.max(first.per100, second.per100)))
    return NO_SPREAD;
  return computed({
    ratio: ratioContrast(first.per100, second.per100, errorOfLog, onLog),
    difference: differenceContrast(first.per100, second.per100, error, onPlain),
    clusters,
  });
}

/** Root of the sum over units of (α × excess in the first group + β × excess in the second)². */
function combined(first: Side, second: Side, alpha: number, beta: number): number {
  let sum = 0;
  first.excess.forEach((excess, unit) => {
    const influence = alpha * excess + beta * (second.excess[unit] ?? 0);
    sum += influence * influence;
  });
  return Math.sqrt(sum);
}

function refusalOf({ group, events, unitYears }: Side): NotComputed | undefined {
  if (!(unitYears > 0))
    return notComputed("nobody-under-observation", "nobody was under observation in this period");
  if (events > 0) return undefined;
  return notComputed(
    "no-events-in-a-group",
    `nobody in group ${group} had the event in this period: compare exact rates`,
  );
}

function oneCluster(): NotComputed {
  return notComputed("too-few-clusters", "a single cluster shows no spread");
}
