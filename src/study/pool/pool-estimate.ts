import { type Answer, computed } from "../../base/answer.ts";
import { checkObservations } from "../../survival/check-observations.ts";
import type { CountsByTime } from "../../survival/counts.ts";
import { cumulativeIncidence } from "../../survival/cumulative-incidence.ts";
import { kaplanMeier } from "../../survival/kaplan-meier.ts";
import { logRankTest } from "../../survival/log-rank-test.ts";
import type {
  CumulativeIncidence,
  LogRankTest,
  RevisionRate,
  SurvivalCurve,
} from "../../survival/results.ts";
import { revisionRate } from "../../survival/revision-rate.ts";
import { yearDifference } from "../../survival/year-difference.ts";
import type { GroupSize, PairDifferences } from "../estimates/estimates.ts";
import { mergePeriods } from "../estimates/merge-periods.ts";
import type { PooledCounts } from "./pool-counts.ts";
import type { PoolFacts } from "./pool-facts.ts";
import { poolSizes } from "./pool-sizes.ts";

/** Every number that pooled counts give, at full precision and before disclosure control. */
export interface PoolEstimates {
  readonly sizes: readonly GroupSize[];
  /** Cases of each source by group, in the order of the files and groups. */
  readonly casesBySource: readonly (readonly number[])[];
  readonly incidence: Answer<CumulativeIncidence>;
  readonly survival: SurvivalCurve;
  readonly pairs: readonly PairDifferences[];
  readonly logRank: {
    readonly plain: Answer<LogRankTest>;
    /** Groups compared within each source; undefined where there is one source only. */
    readonly withinSources: Answer<LogRankTest> | undefined;
  };
  readonly rates: RevisionRate;
}

/** Estimates that need nothing but counts; all take every unit as independent. */
export function poolEstimate({ files, counts, bySource }: PooledCounts, facts: PoolFacts): PoolEstimates {
  const { level, cause, years } = facts;
  const event = [cause];
  const periods = mergePeriods(eventsAlone(counts, cause), facts.periods);
  return {
    sizes: poolSizes(counts, facts, periods),
    casesBySource: files.map(({ descriptor }) =>
      facts.groups.map((label) => descriptor.groups.find((group) => group.label === label)?.cases ?? 0),
    ),
    incidence: facts.crude.computed ? computed(cumulativeIncidence(counts, { level, years })) : facts.crude,
    survival: kaplanMeier(counts, { level, event, years }),
    pairs: facts.groups.slice(1).map((_label, at) => pairDifferences(counts, at + 1, facts)),
    logRank: {
      plain: logRankTest(counts, { event }),
      withinSources: files.length > 1 ? logRankTest(bySource, { event }) : undefined,
    },
    rates: revisionRate(counts, { event, periods, level }),
  };
}

/** The first group against one of the others. */
function pairDifferences(counts: CountsByTime, other: number, facts: PoolFacts): PairDifferences {
  const { cause, years, level, crude } = facts;
  const groups = [0, other] as const;
  const options = { cause, years, groups, level };
  return {
    groups,
    crude: crude.computed
      ? yearDifference(counts, { ...options, measure: "incidence" })
      : years.map(() => crude),
    net: yearDifference(counts, { ...options, measure: "survival" }),
  };
}

/** The events as rows of their own, for the rule that joins periods: it looks at nothing else. */
function eventsAlone({ cells, causes, timeUnit }: CountsByTime, cause: string) {
  const wanted = causes.indexOf(cause);
  const ticks = cells.flatMap(({ time, events }) =>
    Array.from(time).flatMap((tick, at) => Array.from({ length: events[wanted]?.[at] ?? 0 }, () => tick)),
  );
  return checkObservations({ exit: ticks, event: ticks.map(() => 1), causes: [cause], timeUnit });
}
