import { type Answer, computed, type NotComputed, notComputed } from "../../base/answer.ts";
import { clusteredLogRank } from "../../survival/clustered-log-rank.ts";
import type { CountsByTime } from "../../survival/counts.ts";
import {
  exactRateComparison,
  type ObservedRate,
  type RateComparison,
} from "../../survival/exact-rate-comparison.ts";
import { groupsExpectingTooFew } from "../../survival/groups-expecting-too-few.ts";
import { logRankTest } from "../../survival/log-rank-test.ts";
import type { LogRankTest, RevisionRate, YearDifference } from "../../survival/results.ts";
import { yearDifference } from "../../survival/year-difference.ts";
import type { StudyFacts } from "../facts.ts";
import type { StudyObservations } from "../observations.ts";
import type {
  GroupFollowUp,
  GroupSize,
  PairDifferences,
  PeriodRatios,
  RateRatio,
  StudyEstimates,
} from "./estimates.ts";

/** With fewer events in a group only rates are compared. */
const FEWEST_EVENTS = 5;

/** The first group against each of the others at the plan's years; rates only where a group has had too few events. */
export function pairDifferences(
  { observations }: StudyObservations,
  sizes: readonly GroupSize[],
  facts: StudyFacts,
): PairDifferences[] {
  const { plan, level, cause, crude } = facts;
  return pairs(facts).map((groups) => {
    const options = { cause, years: plan.years, groups, level, smallSample: "shares" as const };
    const floored = (answers: readonly Answer<YearDifference>[]) =>
      answers.map((answer, at) => tooFewEvents(sizes, groups, at) ?? answer);
    return {
      groups,
      crude: crude.computed
        ? floored(yearDifference(observations, { ...options, measure: "incidence" }))
        : plan.years.map(() => crude),
      net: floored(yearDifference(observations, { ...options, measure: "survival" })),
    };
  });
}

/** One test over all years, clustered and plain; refused where a group expects too few events for a chi-square. */
export function logRankTests(
  { observations }: StudyObservations,
  counts: CountsByTime,
  facts: StudyFacts,
): StudyEstimates["logRank"] {
  const event = [facts.cause];
  const plain = withEnoughExpected(logRankTest(counts, { event }));
  if (facts.clusters.by === "none" || !plain.computed) return { plain, clustered: plain };
  return { plain, clustered: clusteredLogRank(observations, { event }) };
}

/** Ratios of rates over all years with exact limits: they hold however few the events are. */
export function rateRatios(
  sizes: readonly GroupSize[],
  followUp: readonly GroupFollowUp[],
  facts: StudyFacts,
): RateRatio[] {
  return pairs(facts).map((groups) => {
    const [first, second] = groups.map((group) => ({
      events: sizes[group]?.events.units ?? 0,
      unitYears: followUp[group]?.unitYears ?? 0,
    }));
    return { groups, comparison: first && second ? comparedRates(first, second, facts) : noTime };
  });
}

/** The same within each declared period. */
export function periodRatios(rates: RevisionRate, facts: StudyFacts): PeriodRatios[] {
  const periodsOf = (group: number) => rates.periods.filter((period) => period.group === facts.groups[group]);
  return pairs(facts).map((groups) => {
    const [first, second] = [periodsOf(groups[0]), periodsOf(groups[1])];
    return {
      groups,
      byPeriod: first.map((one, at) => {
        const other = second[at];
        return other === undefined ? noTime : comparedRates(one, other, facts);
      }),
    };
  });
}

const noTime = notComputed("no-time", "a group has no time under observation");

function comparedRates(first: ObservedRate, second: ObservedRate, facts: StudyFacts): Answer<RateComparison> {
  if (!(first.unitYears > 0) || !(second.unitYears > 0)) return noTime;
  return computed(exactRateComparison(first, second, { level: facts.level }));
}

function pairs(facts: StudyFacts): (readonly [number, number])[] {
  return facts.groups.slice(1).map((_label, at) => [0, at + 1] as const);
}

function tooFewEvents(
  sizes: readonly GroupSize[],
  groups: readonly number[],
  year: number,
): NotComputed | undefined {
  const enough = groups.every((group) => (sizes[group]?.eventsByYear[year]?.units ?? 0) >= FEWEST_EVENTS);
  if (enough) return undefined;
  return notComputed("few-events", "too few events in a group by then: rates only");
}

/** The test, or a refusal where a group expects too few events for a chi-square. */
export function withEnoughExpected(test: Answer<LogRankTest>): Answer<LogRankTest> {
  if (!test.computed || groupsExpectingTooFew(test).length === 0) return test;
  return notComputed(
    "few-expected",
    "a group expects fewer than 5 events: see the ratio of rates, which is exact",
  );
}
