import { dayNumber } from "../../../src/base/day-number.ts";
import { expectedEvents } from "../../../src/survival/expected-events.ts";
import { observedAgainstExpected } from "../../../src/survival/observed-against-expected.ts";
import { numberColumn, referenceRecord, referenceRows } from "../../../tests/reference/reference-files.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Example, seriesCheck, valueCheck } from "../check.ts";
import { answered, present } from "../curves.ts";
import { REFERENCES } from "../references.ts";

export function againstExpected(): Example {
  const reference = referenceRecord("07_rates", "smr.units");
  const rows = referenceRows("observed_expected.csv");
  const expected = numberColumn(rows, "expected");
  const of = (method: "exact" | "mid-p" | "byar") =>
    numberColumn(rows, "observed").map((observed, at) =>
      answered(observedAgainstExpected(observed, expected[at] ?? 0, { method })),
    );
  const theirs = rows.map(({ unit = "" }) => reference.expected[unit]);
  const limits = (words: string, method: "exact" | "mid-p" | "byar", name: string) =>
    seriesCheck(
      `${words} limits of four units`,
      of(method).flatMap(({ lower, upper }) => [lower, upper]),
      theirs.flatMap((one) => [one[name].lower, one[name].upper]),
      toleranceOf(reference),
    );
  return {
    title: "Observed over expected, four units (constructed)",
    fromMemory: false,
    reference: REFERENCES.base,
    checks: [
      seriesCheck(
        "Ratios",
        of("exact").map(({ ratio }) => ratio),
        theirs.map(({ smr }) => smr),
        toleranceOf(reference),
      ),
      limits("Exact", "exact", "exact"),
      limits("Mid-P", "mid-p", "midP"),
      limits("Byar’s", "byar", "byar"),
      seriesCheck(
        "p, twice the smaller tail",
        of("exact").map(({ p }) => p),
        theirs.map(({ pExactTwice }) => pExactTwice),
        toleranceOf(reference),
      ),
    ],
  };
}

export function fromTable(): Example {
  const start = dayNumber("2019-06-10") ?? 0;
  const cell = (age: number, year: number, per100: number) => ({
    sex: "F",
    fromAge: age,
    toAge: age,
    fromYear: year,
    toYear: year,
    per100,
  });
  const { groups } = expectedEvents(
    {
      exit: [400],
      event: [1],
      startDay: [start],
      ageAtStart: { unit: "days", values: [start - (dayNumber("1950-06-15") ?? 0)] },
      sex: { codes: [0], labels: ["F"] },
    },
    [cell(68, 2019, 1), cell(69, 2019, 20), cell(69, 2020, 300), cell(70, 2020, 4000)],
  );
  const { expected } = present(groups[0], "a group");
  return {
    title: "400 days from 10 June 2019 of a woman born on 15 June 1950, split at birthdays and New Year",
    fromMemory: false,
    reference: `${REFERENCES.closed}: 4, 200, 166 and 30 days`,
    checks: [
      valueCheck(
        "Expected events",
        expected.computed ? expected.events : undefined,
        (4 * 0.01 + 200 * 0.2 + 166 * 3 + 30 * 40) / 365.25,
        { relative: 1e-14, absolute: 0 },
      ),
    ],
  };
}
