import { countsByTime } from "../../../src/survival/counts-by-time.ts";
import { exactRateComparison } from "../../../src/survival/exact-rate-comparison.ts";
import type { ObservationColumns } from "../../../src/survival/observations.ts";
import { revisionRate } from "../../../src/survival/revision-rate.ts";
import { numberColumn, referenceRecord, referenceRows } from "../../../tests/reference/reference-files.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Check, type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered, present } from "../curves.ts";
import { REFERENCES } from "../references.ts";
import { againstExpected, fromTable } from "./expected-rates.ts";

export function rateChecks(): Method {
  return {
    id: "rates",
    title: "Rates with exact and mid-P limits, their comparison, observed against expected",
    functions: ["revisionRate", "exactRateComparison", "observedAgainstExpected", "expectedEvents"],
    notes: ["“none”: no ratio and no upper limit exist where the second group has no event."],
    examples: [poissonLimits(), componentYears(), fluoroscopy(), noEvents(), againstExpected(), fromTable()],
  };
}

function rateOf(events: number, years: number, level = 0.95, method: "exact" | "mid-p" = "exact") {
  const { periods } = revisionRate(countsByTime(withTotals(events, years)), { level, method });
  return answered(present(periods[0], "a rate").rate);
}

/** One unit per event and the rest of the time in one more. Ticks are 1/100 of a year, so that 10,482.3 years are whole. */
function withTotals(events: number, years: number): ObservationColumns {
  const seen = Array.from({ length: events }, () => 1);
  return {
    exit: [...seen, Math.round(years * 100) - events],
    event: [...seen, 0],
    timeUnit: { word: "day", perYear: 100 },
  };
}

function poissonLimits(): Example {
  const reference = referenceRecord("07_rates", "rate.exact_limits");
  const { counts } = reference.input as { counts: number[] };
  // 2,000 unit-years: limits of the count are 20 times those per 100.
  const limits = (level: number, method: "exact" | "mid-p" = "exact") =>
    counts.map((events) => rateOf(events, 2000, level, method));
  const figure = (events: number, side: "lower" | "upper", printed: number) => {
    const at = counts.indexOf(events);
    const theirs = reference.expected[95][side === "lower" ? "exactLower" : "exactUpper"][at];
    return valueCheck(
      `${side === "lower" ? "Lower" : "Upper"} 95 % limit of ${events} events`,
      (limits(0.95)[at]?.[side] ?? Number.NaN) * 20,
      theirs,
      toleranceOf(reference),
      { figure: printed, decimals: 3 },
    );
  };
  const { figures } = reference.published;
  return {
    title: "Exact limits of a count, 0 to 1000 events",
    printedIn: "standard tables of exact Poisson limits",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.base,
    checks: [
      figure(0, "upper", figures["0 upper"]),
      figure(10, "lower", figures["10 lower"]),
      figure(10, "upper", figures["10 upper"]),
      ...[90, 95, 99].map((percent) => {
        const ours = limits(percent / 100);
        const { exactLower, exactUpper } = reference.expected[percent];
        return seriesCheck(
          `Limits of ten counts at ${percent} %`,
          [...ours.map(({ lower }) => lower * 20), ...ours.map(({ upper }) => upper * 20)],
          [...exactLower, ...exactUpper],
          toleranceOf(reference),
        );
      }),
      ...[90, 95, 99].map((percent) => {
        const ours = limits(percent / 100, "mid-p");
        const { midPLower, midPUpper } = reference.expected[percent];
        return seriesCheck(
          `Mid-P limits of ten counts at ${percent} %`,
          [...ours.map(({ lower }) => lower * 20), ...ours.map(({ upper }) => upper * 20)],
          [...midPLower, ...midPUpper],
          toleranceOf(reference, "mid-P"),
        );
      }),
    ],
  };
}

function componentYears(): Example {
  const reference = referenceRecord("07_rates", "rate.per_100_component_years");
  const rows = referenceRows("component_years.csv");
  const years = numberColumn(rows, "years");
  const ours = numberColumn(rows, "events").map((events, at) => rateOf(events, years[at] ?? 0));
  const { rate, lower, upper } = reference.expected;
  return {
    title: "Events per 100 component-years, four components (constructed)",
    fromMemory: false,
    reference: REFERENCES.base,
    checks: [
      seriesCheck(
        "Rates",
        ours.map(({ per100 }) => per100),
        rate,
        toleranceOf(reference),
      ),
      seriesCheck(
        "95 % limits",
        [...ours.map((one) => one.lower), ...ours.map((one) => one.upper)],
        [...lower, ...upper],
        toleranceOf(reference),
      ),
    ],
  };
}

interface Counts {
  readonly a: number;
  readonly Ta: number;
  readonly b: number;
  readonly Tb: number;
}

// biome-ignore lint/suspicious/noExplicitAny: the shape of a reference record is its own
function comparisonChecks({ a, Ta, b, Tb }: Counts, theirs: any, words: string, relative: number): Check[] {
  const [first, second] = [
    { events: a, unitYears: Ta },
    { events: b, unitYears: Tb },
  ];
  const tolerance = { relative, absolute: 0 };
  const exact = exactRateComparison(first, second);
  const mid = exactRateComparison(first, second, { method: "mid-p" });
  const difference = answered(exact.difference);
  const found = (answer: { computed: boolean; value?: number }) =>
    answer.computed ? answer.value : undefined;
  return [
    seriesCheck(
      `Exact limits of the ratio${words}`,
      [exact.lower, found(exact.upper)],
      [theirs.exactLower, theirs.exactUpper],
      tolerance,
    ),
    seriesCheck(
      `Mid-P limits of the ratio${words}`,
      [mid.lower, found(mid.upper)],
      [theirs.midPLower, theirs.midPUpper],
      tolerance,
    ),
    valueCheck(`p, twice the smaller tail${words}`, exact.p, theirs.exactPTwiceSmaller, tolerance),
    valueCheck(`p, mid-P${words}`, mid.p, theirs.midPTwice, tolerance),
    seriesCheck(
      `Difference per 100 years with limits${words}`,
      [difference.per100, difference.lower, difference.upper],
      [theirs.rateDifference, ...theirs.rateDifferenceWald].map((rate) => 100 * rate),
      tolerance,
    ),
  ];
}

function fluoroscopy(): Example {
  const reference = referenceRecord("07_rates", "rate.ratio_rothman");
  const counts = reference.input as Counts;
  const { ratio } = exactRateComparison(
    { events: counts.a, unitYears: counts.Ta },
    { events: counts.b, unitYears: counts.Tb },
  );
  const tolerance = toleranceOf(reference);
  return {
    title: "Breast cancer after fluoroscopy, 41 cases against 15 (Boice and Monson 1977)",
    printedIn: "Rothman's texts of epidemiology",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.base,
    checks: [
      valueCheck("Rate ratio", answered(ratio).value, reference.expected.rateRatio, tolerance, {
        figure: reference.published.figures.rateRatio,
        decimals: 2,
      }),
      ...comparisonChecks(counts, reference.expected, "", tolerance.relative),
    ],
  };
}

function noEvents(): Example {
  const reference = referenceRecord("07_rates", "rate.ratio_zero");
  const input = reference.input as Record<"case1" | "case2", Counts>;
  const { relative } = toleranceOf(reference);
  return {
    title: "No event in one of the groups (constructed)",
    fromMemory: false,
    reference: REFERENCES.base,
    checks: [
      ...comparisonChecks(input.case1, reference.expected.case1, ", none in the first", relative),
      ...comparisonChecks(input.case2, reference.expected.case2, ", none in the second", relative),
    ],
  };
}
