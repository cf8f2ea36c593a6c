import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { logRankScore } from "../../src/survival/log-rank-score.ts";
import { logRankTest } from "../../src/survival/log-rank-test.ts";
import type { LogRankWeighting } from "../../src/survival/log-rank-weighting.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { columnsOf, drawnRows, RUNS, reordered } from "./arbitrary-rows.ts";
import { naiveLogRank } from "./naive-counts.ts";
import { rowsOf } from "./some-rows.ts";

const WEIGHTINGS: readonly LogRankWeighting[] = [
  "equal",
  "atRisk",
  "rootAtRisk",
  "survival",
  { early: 1, late: 0.5 },
];
const tested = (columns: ObservationColumns, weighting: LogRankWeighting = "equal") =>
  logRankTest(countsByTime(columns), { weighting });

/** Chi-square and degrees of freedom, or the code of the reason for none. */
function outcome(columns: ObservationColumns, weighting?: LogRankWeighting) {
  const test = tested(columns, weighting);
  return test.computed ? { chiSquare: test.chiSquare, freedom: test.degreesOfFreedom } : { code: test.code };
}

function expectSame(one: ReturnType<typeof outcome>, other: ReturnType<typeof outcome>): void {
  expect([one.code, one.freedom]).toEqual([other.code, other.freedom]);
  if (one.chiSquare === undefined) return;
  expect(Math.abs(one.chiSquare - (other.chiSquare ?? Number.NaN))).toBeLessThanOrEqual(
    1e-8 * (1 + one.chiSquare),
  );
}

describe("logRankTest() identities", () => {
  it("agrees with asking every row at every tick of every stratum (twin, seeds 1 to 4)", () => {
    for (const seed of [1, 2, 3, 4]) {
      const columns = rowsOf(seed, { rows: 250, groups: 4, strata: 3, causes: 1, entries: seed > 2 });
      const [ours, twin] = [logRankScore(countsByTime(columns), [true]), naiveLogRank(columns, 4)];
      ours.score.forEach((value, at) => {
        expect(value).toBeCloseTo(twin.score[at] ?? Number.NaN, 9);
        expect(value).toBeCloseTo((ours.observed[at] ?? 0) - (ours.expected[at] ?? 0), 9);
      });
      ours.covariance.flat().forEach((value, at) => {
        expect(value).toBeCloseTo(twin.covariance.flat()[at] ?? Number.NaN, 9);
      });
    }
  });

  it("has scores that add up to 0 and covariance rows that do, under every weighting", () => {
    fc.assert(
      fc.property(drawnRows, fc.constantFrom(...WEIGHTINGS), (rows, weighting) => {
        const { score, covariance } = logRankScore(countsByTime(columnsOf(rows)), [true], weighting);
        const total = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0);
        expect(total(score)).toBeCloseTo(0, 8);
        for (const row of covariance) expect(total(row)).toBeCloseTo(0, 7);
      }),
      RUNS,
    );
  });

  it("does not care about the order of rows or of groups", () => {
    fc.assert(
      fc.property(
        drawnRows,
        fc.array(fc.nat(), { minLength: 1 }),
        fc.constantFrom(...WEIGHTINGS),
        (rows, keys, weighting) => {
          const turned = rows.map((row) => ({ ...row, group: 2 - row.group }));
          expectSame(
            outcome(columnsOf(reordered(rows, keys)), weighting),
            outcome(columnsOf(rows), weighting),
          );
          expectSame(outcome(columnsOf(turned), weighting), outcome(columnsOf(rows), weighting));
        },
      ),
      RUNS,
    );
  });

  it("takes a copy weight of k as the row k times, and stretched ticks as the same", () => {
    fc.assert(
      fc.property(
        drawnRows.filter((rows) => rows.some(({ weight }) => weight > 0)),
        fc.constantFrom(...WEIGHTINGS),
        (rows, weighting) => {
          const repeated = rows.flatMap((row) => new Array(row.weight).fill(row));
          expectSame(outcome(columnsOf(rows, "copies"), weighting), outcome(columnsOf(repeated), weighting));
          const longer = rows.map((row) => ({
            ...row,
            entry: row.entry < 0 ? -1 : 900 * row.entry,
            exit: 900 * row.exit,
          }));
          expectSame(outcome(columnsOf(longer), weighting), outcome(columnsOf(rows), weighting));
        },
      ),
      RUNS,
    );
  });

  it("gives the same for rows cut in two at any tick", () => {
    fc.assert(
      fc.property(
        drawnRows,
        fc.integer({ min: 0, max: 15 }),
        fc.constantFrom(...WEIGHTINGS),
        (rows, cut, weighting) => {
          const pieces = rows.flatMap((row, caseId) =>
            cut > row.entry && cut < row.exit
              ? [
                  { ...row, exit: cut, event: 0, caseId },
                  { ...row, entry: cut, caseId },
                ]
              : [{ ...row, caseId }],
          );
          const cutUp = { ...columnsOf(pieces), caseId: pieces.map(({ caseId }) => caseId) };
          expectSame(outcome(cutUp, weighting), outcome(columnsOf(rows), weighting));
        },
      ),
      RUNS,
    );
  });

  it("gives the equal weighting for Fleming–Harrington powers of 0", () => {
    const columns = rowsOf(9, { rows: 120, groups: 3, strata: 2, causes: 1, entries: true });
    expectSame(outcome(columns, { early: 0, late: 0 }), outcome(columns, "equal"));
  });

  it("finds no difference between two groups of the same rows", () => {
    const { exit, event } = rowsOf(9, { rows: 60, groups: 1, strata: 1, causes: 1, entries: false });
    const twice = [...exit, ...exit];
    const test = tested({
      exit: twice,
      event: [...event, ...event],
      group: { codes: twice.map((_, row) => (row < 60 ? 0 : 1)), labels: ["a", "b"] },
    });
    expect(test).toMatchObject({ computed: true, degreesOfFreedom: 1 });
    expect(test.computed && test.chiSquare).toBeCloseTo(0, 12);
    expect(test.computed && test.p).toBeCloseTo(1, 6);
  });
});

describe("logRankTest() at the edges", () => {
  const two = { codes: [0, 1], labels: ["a", "b"] };
  const edges: readonly (readonly [string, ObservationColumns, string])[] = [
    ["nobody", { exit: [], event: [], group: { codes: [], labels: ["a", "b"] } }, "no-events"],
    ["no events", { exit: [1, 2], event: [0, 0], group: two }, "no-events"],
    ["one group", { exit: [1, 2], event: [1, 1] }, "nothing-to-compare"],
    [
      "an empty second group",
      { exit: [1, 2], event: [1, 1], group: { codes: [0, 0], labels: ["a", "b"] } },
      "nothing-to-compare",
    ],
    [
      "a second group that left before the first event",
      { exit: [9, 2], event: [1, 0], group: two },
      "nothing-to-compare",
    ],
    [
      "groups never at risk together",
      { entry: [-1, 5], exit: [4, 9], event: [1, 1], group: two },
      "no-spread",
    ],
    ["everybody with the event on one tick", { exit: [3, 3], event: [1, 1], group: two }, "no-spread"],
  ];
  for (const [name, columns, code] of edges) {
    it(`says why there is no test for ${name}`, () => {
      expect(tested(columns)).toMatchObject({ computed: false, code });
    });
  }

  it("compares two knees: chi-square 1 (closed form)", () => {
    expect(tested({ exit: [1, 2], event: [1, 0], group: two })).toMatchObject({
      computed: true,
      chiSquare: 1,
    });
  });

  it("drops a group never at risk at an event from the degrees of freedom", () => {
    const test = tested({
      entry: [-1, -1, -1, 50],
      exit: [1, 2, 3, 60],
      event: [1, 1, 0, 0],
      group: { codes: [0, 1, 1, 2], labels: ["a", "b", "late"] },
    });
    expect(test).toMatchObject({ computed: true, degreesOfFreedom: 1 });
  });

  it("takes the rank where strata never bring two pairs of groups together (identity: chi-squares add)", () => {
    const half = (stratum: number, first: number) => ({
      exit: [1, 2, 3, 4, 5, 6],
      event: [1, 1, 0, 1, 1, 0],
      group: { codes: [0, 0, 0, 1, 1, 1].map((code) => code + first), labels: ["a", "b", "c", "d"] },
      stratum: { codes: new Array<number>(6).fill(stratum), labels: ["x", "y"] },
    });
    const [left, right] = [half(0, 0), half(1, 2)];
    const both = tested({
      exit: [...left.exit, ...right.exit],
      event: [...left.event, ...right.event],
      group: { codes: [...left.group.codes, ...right.group.codes], labels: left.group.labels },
      stratum: { codes: [...left.stratum.codes, ...right.stratum.codes], labels: left.stratum.labels },
    });
    const one = tested(left);
    expect(both).toMatchObject({ computed: true, degreesOfFreedom: 2 });
    expect(both.computed && one.computed && both.chiSquare / one.chiSquare).toBeCloseTo(2, 10);
  });

  it("refuses sampling weights, unknown causes and unknown weightings", () => {
    const counts = countsByTime({ exit: [1, 2], event: [1, 0], group: two });
    expect(() => logRankTest(counts, { event: ["wear"] })).toThrow('no cause is named "wear"');
    expect(() => logRankTest(counts, { weighting: { early: -1, late: 0 } })).toThrow(
      "weighting must be one of",
    );
    expect(() => logRankTest(counts, { weighting: "loud" as "equal" })).toThrow("weighting must be one of");
    const weighted = countsByTime({
      exit: [1, 2],
      event: [1, 0],
      weight: { kind: "sampling", values: [1, 2] },
    });
    expect(() => logRankTest(weighted)).toThrow("clusteredLogRank");
  });
});
