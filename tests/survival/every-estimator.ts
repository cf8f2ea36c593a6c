import type { Answer } from "../../src/base/answer.ts";
import { ArgumentError } from "../../src/base/errors.ts";
import { addCounts } from "../../src/survival/add-counts.ts";
import { checkObservations } from "../../src/survival/check-observations.ts";
import { clusteredIncidence } from "../../src/survival/clustered-incidence.ts";
import { clusteredLogRank } from "../../src/survival/clustered-log-rank.ts";
import { clusteredRate } from "../../src/survival/clustered-rate.ts";
import { clusteredRestrictedMean } from "../../src/survival/clustered-restricted-mean.ts";
import { clusteredSurvival } from "../../src/survival/clustered-survival.ts";
import { completeness } from "../../src/survival/completeness.ts";
import { conditionalSurvival } from "../../src/survival/conditional-survival.ts";
import type { CountsByTime } from "../../src/survival/counts.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { cumulativeHazard } from "../../src/survival/cumulative-hazard.ts";
import { cumulativeIncidence, eventFreeShare } from "../../src/survival/cumulative-incidence.ts";
import { exactRateComparison } from "../../src/survival/exact-rate-comparison.ts";
import { expectedEvents } from "../../src/survival/expected-events.ts";
import { grayTest } from "../../src/survival/gray-test.ts";
import { kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import { logRankTest } from "../../src/survival/log-rank-test.ts";
import { logRankTrend } from "../../src/survival/log-rank-trend.ts";
import { lossBounds } from "../../src/survival/loss-bounds.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { observedAgainstExpected } from "../../src/survival/observed-against-expected.ts";
import { pairwiseLogRank } from "../../src/survival/pairwise-log-rank.ts";
import { restrictedMean } from "../../src/survival/restricted-mean.ts";
import { reverseFollowUp } from "../../src/survival/reverse-follow-up.ts";
import { revisionRate } from "../../src/survival/revision-rate.ts";
import { smoothedHazard } from "../../src/survival/smoothed-hazard.ts";
import { timeToFraction } from "../../src/survival/time-to-fraction.ts";
import { yearDifference } from "../../src/survival/year-difference.ts";

/** A horizon in years, and years at which values are read. */
const YEARS = [0, 1, 3, 8] as const;

const onCounts =
  (estimate: (counts: CountsByTime) => unknown) =>
  (columns: ObservationColumns): unknown =>
    estimate(countsByTime(columns));

const first = ({ causes: [cause = "event"] = [] }: ObservationColumns) => cause;

/** Every estimator of the folder as a function of the rows alone; the first cause stands for the event where one is named. */
export const EVERY_ESTIMATOR: Readonly<Record<string, (columns: ObservationColumns) => unknown>> = {
  countsByTime,
  addCounts: onCounts((counts) => addCounts([counts, counts])),
  kaplanMeier: onCounts((counts) => kaplanMeier(counts, { years: YEARS })),
  conditionalSurvival: onCounts((counts) => conditionalSurvival(counts, { givenYear: 1, years: [2, 3] })),
  reverseFollowUp: onCounts((counts) => reverseFollowUp(counts, { years: YEARS })),
  timeToFraction: onCounts((counts) => timeToFraction(kaplanMeier(counts), 0.5)),
  cumulativeHazard: onCounts((counts) => cumulativeHazard(counts)),
  smoothedHazard: onCounts((counts) => smoothedHazard(counts, { halfWindowYears: 2, stepYears: 1 })),
  cumulativeIncidence: onCounts((counts) => cumulativeIncidence(counts, { years: YEARS })),
  eventFreeShare: onCounts((counts) => counts.groups.map((_, group) => eventFreeShare(counts, group))),
  restrictedMean: onCounts((counts) => restrictedMean(counts, { toYear: 4 })),
  revisionRate: onCounts((counts) => revisionRate(counts, { periods: [1, 4], method: "mid-p" })),
  logRankTest: onCounts((counts) => logRankTest(counts, { weighting: { early: 1, late: 1 } })),
  logRankTrend: onCounts((counts) => (counts.groups.length > 1 ? logRankTrend(counts) : null)),
  pairwiseLogRank: onCounts((counts) => pairwiseLogRank(counts)),
  grayTest: (columns) => grayTest(countsByTime(columns), { cause: first(columns) }),
  exactRateComparison: onCounts((counts) => rateComparison(counts)),
  "yearDifference of counts": (columns) => differences(columns, countsByTime(columns)),
  "yearDifference of rows": (columns) => differences(columns, checkObservations(columns)),
  clusteredSurvival: (columns) => clusteredSurvival(columns, { years: YEARS }),
  clusteredIncidence: (columns) => clusteredIncidence(columns, { years: YEARS }),
  clusteredLogRank: (columns) => clusteredLogRank(withClusters(columns)),
  clusteredRestrictedMean: (columns) => clusteredRestrictedMean(columns, { toYear: 4 }),
  clusteredRate: (columns) => clusteredRate(columns, { periods: [1, 4] }),
  completeness: (columns) =>
    completeness(
      columns,
      Array.from(columns.exit, (tick) => tick + 2),
    ),
  "lossBounds net": (columns) => bounds(columns, "net"),
  "lossBounds crude": (columns) => bounds(columns, "crude"),
  expectedEvents: (columns) => expected(columns),
};

/** Estimators that say they need rows: sampling weights have no variance from counts. */
export const NEEDS_ROWS_FOR_SAMPLING = [
  "kaplanMeier",
  "conditionalSurvival",
  "reverseFollowUp",
  "timeToFraction",
  "cumulativeHazard",
  "smoothedHazard",
  "cumulativeIncidence",
  "restrictedMean",
  "logRankTest",
  "logRankTrend",
  "pairwiseLogRank",
] as const;

/** Clusters where the test needs them and there are none: each row its own. */
function withClusters(columns: ObservationColumns): ObservationColumns {
  const codes = Array.from(columns.exit, (_, row) => row);
  return { cluster: { codes, word: "case" }, ...columns };
}

function differences(columns: ObservationColumns, data: ObservationColumns | CountsByTime): unknown {
  if ((columns.group?.labels.length ?? 1) < 2) return null;
  return (["incidence", "survival"] as const).map((measure) =>
    yearDifference(data, { measure, cause: first(columns), years: [1, 3] }),
  );
}

function rateComparison(counts: CountsByTime): unknown {
  const [one, two] = counts.groups.map((_, group) => {
    const period = revisionRate(counts).periods[group];
    return { events: period?.events ?? 0, unitYears: period?.unitYears ?? 0 };
  });
  if (one === undefined || two === undefined) return null;
  return (["exact", "mid-p"] as const).map((method) => exactRateComparison(one, two, { method }));
}

function bounds(columns: ObservationColumns, risk: "net" | "crude"): unknown {
  const lastOfCase = (row: number) =>
    !Array.from(columns.caseId ?? []).some(
      (id, other) => id === columns.caseId?.[row] && (columns.exit[other] ?? 0) > (columns.exit[row] ?? 0),
    );
  // By what a row holds, not by its place: the order of rows must not matter.
  const lost = Array.from(columns.event, (code, row) =>
    code === 0 && (columns.exit[row] ?? 0) % 2 === 0 && lastOfCase(row) ? 1 : 0,
  );
  const possible = Array.from(columns.exit, (tick) => tick + 3);
  return lossBounds(columns, { lost, possible }, { risk, cause: first(columns), years: YEARS });
}

function expected(columns: ObservationColumns): unknown {
  const days = { ...columns, timeUnit: { word: "day", perYear: 365.25 } as const };
  const each = (value: number) => Array.from(columns.exit, () => value);
  const rows = {
    ...days,
    startDay: each(18_000),
    ageAtStart: { unit: "years" as const, values: each(70) },
    sex: { codes: each(0), labels: ["F"] },
  };
  const band = { sex: "F", fromAge: 0, fromYear: 2019, toYear: 2019, per100: 2 };
  const result = expectedEvents(rows, [band]);
  const ratios: Answer<object>[] = result.groups.map(({ observed, expected: count }) =>
    count.computed ? observedAgainstExpected(observed, count.events) : count,
  );
  return { result, ratios };
}

/** Where anything in a result is no number a reader could use, as paths. Plain records, arrays and typed arrays. */
export function unusableNumbers(value: unknown, path = "result"): string[] {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [`${path}: ${value}`];
  if (value === undefined) return [`${path}: undefined`];
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([key, part]) => unusableNumbers(part, `${path}.${key}`));
}

/** The result, or the message of the refusal; any other kind of error fails the test. */
export function resultOrRefusal(estimate: () => unknown): { result: unknown } | { refusal: string } {
  try {
    return { result: estimate() };
  } catch (error) {
    if (error instanceof ArgumentError) return { refusal: error.message };
    throw error;
  }
}
