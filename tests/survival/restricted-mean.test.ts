import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { restrictedMean } from "../../src/survival/restricted-mean.ts";
import {
  codeColumn,
  expectRelative,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../reference/record.ts";
import { rowsOf } from "./some-rows.ts";

const year = TIME_UNITS.year;

// biome-ignore lint/suspicious/noExplicitAny: the shape of a reference record is its own
function expectContrast(actual: any, expected: any): void {
  for (const name of ["estimate", "lower", "upper", "p"]) expectRelative(actual[name], expected[name], 1e-10);
  if ("se" in expected) expectRelative(actual.standardError, expected.se, 1e-10);
}

function meansOf(columns: ObservationColumns, toYear: number) {
  const { groups, comparisons } = restrictedMean(countsByTime(columns), { toYear });
  const [first, second] = groups;
  const [comparison] = comparisons;
  if (!first?.computed || !second?.computed || !comparison?.computed) throw new Error("means were expected");
  return { first, second, comparison };
}

function code(columns: ObservationColumns, toYear: number, group = 0): string {
  const answer = restrictedMean(countsByTime(columns), { toYear }).groups[group];
  return answer?.computed === false ? answer.code : "computed";
}

describe("restrictedMean() against reference numbers", () => {
  it("compares two arms of a trial over ten years", () => {
    // Reference; published 7.146 (0.283) and 7.283 (0.295), difference −0.137, recalled from memory. Ticks are half-days,
    // because ten years are 3652.5 days.
    const rows = referenceRows("pbc_trial.csv");
    const { expected } = referenceRecord("03_rmst", "rmst.pbc_tau10");
    const { first, second, comparison } = meansOf(
      {
        exit: numberColumn(rows, "days").map((days) => 2 * days),
        event: numberColumn(rows, "status"),
        group: codeColumn(rows, "arm", ["1", "0"]),
        timeUnit: { word: "day", perYear: 730.5 },
      },
      10,
    );
    for (const [mean, wanted] of [
      [first, expected.arm1],
      [second, expected.arm0],
    ]) {
      expectRelative(mean.years, wanted.rmst, 1e-11);
      expectRelative(mean.standardError, wanted.se, 1e-11);
      expectRelative(mean.yearsLost, wanted.rmtl, 1e-11);
    }
    expectContrast(comparison.difference, expected.difference);
    expectContrast(comparison.ratio, expected.ratio);
    expectContrast(comparison.ratioOfYearsLost, expected.ratioTimeLost);
  });

  it("takes a horizon at an event, between events, and beyond the end of a curve that reached 0", () => {
    const rows = referenceRows("freireich.csv");
    const { expected } = referenceRecord("03_rmst", "rmst.freireich");
    const columns = {
      exit: numberColumn(rows, "time"),
      event: numberColumn(rows, "status"),
      group: codeColumn(rows, "arm", ["6-MP", "placebo"]),
      timeUnit: year,
    };
    for (const horizon of [20, 22, 23, 35]) {
      const wanted = expected[`tau${horizon}`];
      const { first, second, comparison } = meansOf(columns, horizon);
      expectRelative(first.years, wanted.sixMP.rmst, 1e-11);
      expectRelative(first.standardError, wanted.sixMP.se, 1e-11);
      expectRelative(second.years, wanted.placebo.rmst, 1e-11);
      expectRelative(second.standardError, wanted.placebo.se, 1e-11);
      expectRelative(second.yearsLost, wanted.placebo.rmtl, 1e-11);
      expectContrast(comparison.difference, wanted.difference);
      expectContrast(comparison.ratio, wanted.ratio);
      expectContrast(comparison.ratioOfYearsLost, wanted.ratioTimeLost);
    }
    // 6-MP ends with a case censored at 35.
    expect(code(columns, 36)).toBe("beyond-follow-up");
    expect(code(columns, 36, 1)).toBe("computed");
  });
});

describe("restrictedMean() in closed form and by identity", () => {
  it("is the plain mean of the times where nobody is censored", () => {
    const { groups } = restrictedMean(
      countsByTime({ exit: [2, 3, 7, 8], event: [1, 1, 1, 1], timeUnit: year }),
      {
        toYear: 8,
      },
    );
    // Closed form: mean 5, variance Σ (x − 5)² / n² = 26 / 16.
    expect(groups[0]).toMatchObject({ years: 5, yearsLost: 3 });
    expectRelative(groups[0]?.computed ? groups[0].standardError : null, Math.sqrt(26 / 16), 1e-14);
  });

  it("holds its limits between no year and all of them (closed form)", () => {
    const [few] = restrictedMean(countsByTime({ exit: [1, 1, 9], event: [1, 1, 0], timeUnit: year }), {
      toYear: 9,
    }).groups;
    // Mean 1 + 8/3, variance (8/3)² × 2 / (3 × 1): 1.96 standard errors below it lie under 0.
    expect(few).toMatchObject({ lower: 0, years: expect.closeTo(11 / 3, 13) });
    expect(few?.computed && few.standardError).toBeCloseTo((8 / 3) * Math.sqrt(2 / 3), 13);
    expect(few?.computed && few.upper).toBeCloseTo(
      11 / 3 + 1.959963984540054 * (8 / 3) * Math.sqrt(2 / 3),
      12,
    );
  });

  it("takes a horizon on the very last tick of follow-up", () => {
    const columns = { exit: [4, 9], event: [1, 0], timeUnit: year };
    expect(code(columns, 9)).toBe("computed");
    expect(code(columns, 9.5)).toBe("computed");
  });

  it("splits the years into kept and lost, for rows with strata and competing causes", () => {
    const rows = {
      ...rowsOf(71, { rows: 200, groups: 2, strata: 3, causes: 2, entries: false }),
      timeUnit: year,
    };
    const { first, second, comparison } = meansOf(rows, 30);
    for (const mean of [first, second]) expect(mean.years + mean.yearsLost).toBeCloseTo(30, 11);
    expect(comparison.difference.estimate).toBeCloseTo(second.yearsLost - first.yearsLost, 11);
  });
});

describe("restrictedMean() says why there is no answer", () => {
  const timeUnit = year;

  it("at the edges", () => {
    expect(code({ exit: [], event: [], timeUnit }, 5)).toBe("no-cases");
    expect(code({ exit: [9, 9], event: [0, 0], timeUnit }, 5)).toBe("no-events-in-a-group");
    expect(code({ exit: [4, 9], event: [1, 0], timeUnit }, 10)).toBe("beyond-follow-up");
    expect(code({ exit: [3, 3], event: [1, 1], timeUnit }, 5)).toBe("no-spread");
    expect(code({ exit: [3, 9, 9], event: [1, 1, 0], entry: [-1, 4, 4], timeUnit }, 8)).toBe(
      "risk-set-emptied",
    );
    expect(code({ exit: [0, 9], event: [1, 0], timeUnit }, 5)).toBe("computed");
  });

  it("passes a group's reason on to its comparison", () => {
    const group = { codes: [0, 0, 1, 1], labels: ["A", "B"] };
    const counts = countsByTime({ exit: [2, 9, 9, 9], event: [1, 0, 0, 0], group, timeUnit });
    expect(restrictedMean(counts, { toYear: 5 }).comparisons[0]).toMatchObject({
      code: "no-events-in-a-group",
    });
  });

  it("but throws at once for a wrong argument", () => {
    const counts = countsByTime({ exit: [2], event: [1], timeUnit });
    expect(() => restrictedMean(counts, { toYear: 0 })).toThrow("above 0");
    expect(() => restrictedMean(counts, { toYear: 0.5 })).toThrow("first year");
    expect(() => restrictedMean(counts, { toYear: 1, event: ["x"] })).toThrow('no cause is named "x"');
  });
});
