import { TIME_UNITS } from "../../../src/base/time-unit.ts";
import { countsByTime } from "../../../src/survival/counts-by-time.ts";
import type { ObservationColumns } from "../../../src/survival/observations.ts";
import { restrictedMean } from "../../../src/survival/restricted-mean.ts";
import {
  codeColumn,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../../../tests/reference/reference-files.ts";
import { type Tolerance, toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Check, type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered, present } from "../curves.ts";

const REFERENCE = "the definition written out in R 4.2.2; at ten years checked against survival 3.5-3";

export function restrictedMeanChecks(): Method {
  return {
    id: "restricted-mean",
    title: "Restricted mean: years without the event up to a horizon",
    functions: ["restrictedMean"],
    notes: ["No small-sample factor in the variance; some programs have one."],
    examples: [liver(), ...remission()],
  };
}

function meansOf(columns: ObservationColumns, toYear: number) {
  const { groups, comparisons } = restrictedMean(countsByTime(columns), { toYear });
  return { first: answered(groups[0]), second: answered(groups[1]), comparison: answered(comparisons[0]) };
}

function liver(): Example {
  const reference = referenceRecord("03_rmst", "rmst.pbc_tau10");
  const rows = referenceRows("pbc_trial.csv");
  // Half-days, because ten years are 3652.5 days.
  const { first, second, comparison } = meansOf(
    {
      exit: numberColumn(rows, "days").map((days) => 2 * days),
      event: numberColumn(rows, "status"),
      group: codeColumn(rows, "arm", ["1", "0"]),
      timeUnit: { word: "day", perYear: 730.5 },
    },
    10,
  );
  const { expected, published } = reference;
  const { difference, ratio, ratioOfYearsLost } = comparison;
  const ratioOf = answered(ratio);
  const lost = answered(ratioOfYearsLost);
  const rowsOf: [string, number, number, number?][] = [
    ["Mean years, treated", first.years, expected.arm1.rmst, published.figures.rmstArm1],
    ["Standard error, treated", first.standardError, expected.arm1.se, published.figures.seArm1],
    ["Mean years, placebo", second.years, expected.arm0.rmst, published.figures.rmstArm0],
    ["Standard error, placebo", second.standardError, expected.arm0.se, published.figures.seArm0],
    ["Difference", difference.estimate, expected.difference.estimate, published.figures.difference],
    ["Difference, lower limit", difference.lower, expected.difference.lower, published.figures.lower],
    ["Difference, upper limit", difference.upper, expected.difference.upper, published.figures.upper],
    ["Difference, p", difference.p, expected.difference.p, published.figures.p],
    ["Ratio", ratioOf.estimate, expected.ratio.estimate, published.figures.ratio],
    ["Ratio, lower limit", ratioOf.lower, expected.ratio.lower, published.figures.ratioLower],
    ["Ratio, upper limit", ratioOf.upper, expected.ratio.upper, published.figures.ratioUpper],
    ["Years lost, treated", first.yearsLost, expected.arm1.rmtl],
    ["Years lost, placebo", second.yearsLost, expected.arm0.rmtl],
    ["Ratio of years lost", lost.estimate, expected.ratioTimeLost.estimate],
    ["Ratio of years lost, p", lost.p, expected.ratioTimeLost.p],
  ];
  return {
    title: "Biliary cirrhosis trial, 312 patients over ten years",
    printedIn: "documentation of an R package on restricted means (survRM2)",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCE,
    checks: rowsOf.map(([quantity, ours, theirs, figure]) =>
      valueCheck(
        quantity,
        ours,
        theirs,
        toleranceOf(reference),
        figure === undefined ? undefined : { figure, decimals: 3 },
      ),
    ),
  };
}

function remission(): Example[] {
  const reference = referenceRecord("03_rmst", "rmst.freireich");
  const rows = referenceRows("freireich.csv");
  const columns = {
    exit: numberColumn(rows, "time"),
    event: numberColumn(rows, "status"),
    group: codeColumn(rows, "arm", ["6-MP", "placebo"]),
    timeUnit: TIME_UNITS.year,
  };
  const horizons = [
    { to: 20, words: "between events" },
    { to: 22, words: "at an event" },
    { to: 23, words: "where one curve reaches 0" },
    { to: 35, words: "beyond the end of that curve" },
  ];
  return [
    {
      title: "6-MP against placebo, four horizons (weeks)",
      fromMemory: false,
      reference: REFERENCE,
      checks: horizons.flatMap(({ to, words }) =>
        horizonChecks(
          `${to}, ${words}`,
          meansOf(columns, to),
          present(reference.expected[`tau${to}`], "a horizon"),
          toleranceOf(reference),
        ),
      ),
    },
  ];
}

function horizonChecks(
  horizon: string,
  { first, second, comparison }: ReturnType<typeof meansOf>,
  // biome-ignore lint/suspicious/noExplicitAny: the shape of a reference record is its own
  theirs: any,
  tolerance: Tolerance,
): Check[] {
  const parts = [
    [comparison.difference, theirs.difference],
    [answered(comparison.ratio), theirs.ratio],
    [answered(comparison.ratioOfYearsLost), theirs.ratioTimeLost],
  ];
  const flat = (side: 0 | 1) =>
    parts.flatMap((pair) => [pair[side].estimate, pair[side].lower, pair[side].upper, pair[side].p]);
  return [
    seriesCheck(
      `Means, years lost and standard errors to ${horizon}`,
      [first, second].flatMap((mean) => [mean.years, mean.yearsLost, mean.standardError]),
      [theirs.sixMP, theirs.placebo].flatMap(({ rmst, rmtl, se }) => [rmst, rmtl, se]),
      tolerance,
    ),
    seriesCheck(
      `Difference, ratio, ratio of years lost with limits and p to ${horizon}`,
      flat(0),
      flat(1),
      tolerance,
    ),
  ];
}
