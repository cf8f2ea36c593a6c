import { describe, expect, it } from "vitest";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { groupsExpectingTooFew } from "../../src/survival/groups-expecting-too-few.ts";
import { logRankScore } from "../../src/survival/log-rank-score.ts";
import { type LogRankOptions, logRankTest } from "../../src/survival/log-rank-test.ts";
import type { LogRankWeighting } from "../../src/survival/log-rank-weighting.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import {
  codeColumn,
  expectAllRelative,
  expectPrinted,
  expectRelative,
  numberColumn,
  referenceRecord,
  referenceRows,
  wholeTicks,
} from "../reference/record.ts";
import { ANY_REVISION, TWELVE_KNEES } from "./fixture-twelve-knees.ts";

const record = (id: string) => referenceRecord("02_logrank", id);

/** Names in the records; "fh_p_q" is read from the name. */
function weightingOf(name: string): LogRankWeighting | undefined {
  const named: Record<string, LogRankWeighting> = {
    logrank: "equal",
    gehanBreslow: "atRisk",
    taroneWare: "rootAtRisk",
    petoPeto: "survival",
  };
  const [, early, late] = /^fh_([\d.]+)_([\d.]+)$/.exec(name) ?? [];
  return early === undefined ? named[name] : { early: Number(early), late: Number(late) };
}

function columnsOf(
  file: string,
  group: string,
  values: readonly string[],
  options: { perUnit?: number; stratum?: string } = {},
): ObservationColumns {
  const { perUnit = 1, stratum } = options;
  const rows = referenceRows(file);
  const strata = stratum === undefined ? [] : [...new Set(rows.map((row) => row[stratum] ?? ""))];
  return {
    exit: wholeTicks(numberColumn(rows, "time"), perUnit),
    event: numberColumn(rows, "status"),
    group: codeColumn(rows, group, values),
    ...(stratum !== undefined && { stratum: codeColumn(rows, stratum, strata) }),
  };
}

function tested(columns: ObservationColumns, options?: LogRankOptions) {
  const test = logRankTest(countsByTime(columns), options);
  if (!test.computed) throw new Error(test.because);
  return test;
}

const ARMS = ["6-MP", "placebo"];
const EXAMPLES: Record<string, ObservationColumns> = {
  "logrank.freireich": columnsOf("freireich.csv", "arm", ARMS),
  "logrank.kidney_catheter": columnsOf(
    "kidney_catheter_placement.csv",
    "type",
    ["surgical", "percutaneous"],
    {
      perUnit: 10,
    },
  ),
  "logrank.bmt_3groups": columnsOf("bmt_dfs.csv", "group", ["ALL", "AML low risk", "AML high risk"]),
  "logrank.larynx_trend": columnsOf("larynx.csv", "stage", ["1", "2", "3", "4"], { perUnit: 10 }),
  "logrank.hodgkin_stratified": columnsOf("hodgkin_transplant.csv", "graft", ["allogeneic", "autologous"], {
    stratum: "disease",
  }),
};

describe("the log-rank family against reference values (R survival and the definition written out)", () => {
  for (const [id, columns] of Object.entries(EXAMPLES)) {
    const { tests } = record(id).expected as { tests: Record<string, ReferenceTest> };
    for (const [name, theirs] of Object.entries(tests)) {
      const weighting = weightingOf(name);
      // The modified Peto–Peto weight is not offered.
      if (weighting === undefined) {
        it(`leaves ${name} of ${id} out knowingly`, () => expect(name).toBe("modifiedPetoPeto"));
        continue;
      }
      it(`agrees with ${name} of ${id}: score, covariance, chi-square and p`, () => {
        const sums = logRankScore(countsByTime(columns), [true], weighting);
        const scale = Math.sqrt(Math.max(...theirs.V.map((row, at) => row[at] ?? 0)));
        expectAllWithin(sums.score, theirs.U, 1e-10 * scale);
        sums.covariance.forEach((row, at) => {
          expectAllWithin(row, theirs.V[at] ?? [], 1e-10 * scale * scale);
        });
        const test = tested(columns, { weighting });
        expectRelative(test.chiSquare, theirs.chisq, 1e-9);
        expect(test.degreesOfFreedom).toBe(theirs.df);
        expectRelative(test.p, theirs.p, 1e-9);
      });
    }
  }

  it("counts observed and expected of Freireich 1963 and of three marrow groups to 1e-10", () => {
    for (const id of ["logrank.freireich", "logrank.bmt_3groups"]) {
      const test = tested(EXAMPLES[id] ?? EXAMPLES["logrank.freireich"]!);
      expect(test.groups.map((group) => group.observed)).toEqual(record(id).expected.observed);
      expectAllRelative(
        test.groups.map((group) => group.expected),
        record(id).expected.expected,
        1e-10,
      );
    }
  });

  it("is the sign test on 21 pairs (closed form and R survival)", () => {
    const { expected } = record("logrank.freireich_pairs");
    const test = tested(columnsOf("freireich.csv", "arm", ARMS, { stratum: "pair" }));
    expectRelative(test.chiSquare, expected.chisq, 1e-10);
    expectRelative(test.p, expected.p, 1e-10);
    // 18 pairs decide for one side and 3 for the other: (18 − 3)²/21.
    expectRelative(test.chiSquare, 225 / 21, 1e-12);
    expect(test.settings.stratified).toBe(true);
  });

  it("prints as Kleinbaum and Klein, chapter 2 (published, from memory): four weightings", () => {
    const { figures } = record("logrank.freireich").published;
    const names = ["logrank", "gehanBreslow", "taroneWare", "petoPeto"];
    const ours = names.map((name) => tested(EXAMPLES["logrank.freireich"]!, weighted(name)).chiSquare);
    expectPrinted(
      ours,
      names.map((name) => figures[name]),
      2,
    );
  });

  it("prints as Klein and Moeschberger, table 7.3 (published, from memory): early and late weights disagree", () => {
    const { chisq } = record("logrank.kidney_catheter").published.figures as {
      chisq: Record<string, number>;
    };
    const names = Object.keys(chisq).filter(
      (name) => weightingOf(name) !== undefined && name !== "gehanBreslow",
    );
    const ours = names.map((name) => tested(EXAMPLES["logrank.kidney_catheter"]!, weighted(name)).chiSquare);
    expect(names.length).toBe(8);
    expectPrinted(
      ours,
      names.map((name) => chisq[name] ?? Number.NaN),
      2,
    );
  });

  it("prints as Klein and Moeschberger, example 7.4 (published, from memory)", () => {
    const { figures } = record("logrank.bmt_3groups").published;
    const ours = ["logrank", "gehanBreslow"].map(
      (name) => tested(EXAMPLES["logrank.bmt_3groups"]!, weighted(name)).chiSquare,
    );
    expectPrinted(ours, [figures.logrank, figures.gehan], 4);
  });

  it("gives the same on days whether they come from days or from rounded years (reference: R survival)", () => {
    const rows = referenceRows("float_ties.csv");
    const columns = {
      exit: numberColumn(rows, "yearsDifference").map((year) => Math.round(year * 365.25)),
      event: numberColumn(rows, "status"),
      group: codeColumn(rows, "x", ["0", "1"]),
    };
    const { expected } = referenceRecord("18_float_ties", "floatties.difference");
    expectRelative(tested(columns).chiSquare, expected.days.logrank, 1e-9);
  });
});

describe("logRankTest() on cases worked out by hand or known to trip programs", () => {
  it("compares two arms of twelve knees for any revision (closed form)", () => {
    const test = tested(TWELVE_KNEES, { event: ANY_REVISION });
    expect(test.groups.map(({ cases }) => cases)).toEqual([6, 6]);
    expect(test.groups[0]?.observed).toBe(3);
    expect(test.groups[0]?.expected).toBeCloseTo(1.766667, 6);
    expect(test.chiSquare).toBeCloseTo(1.389848, 6);
    expect(test.p).toBeCloseTo(0.238431, 6);
  });

  it("keeps a centre without a revision (reference: R survival)", () => {
    const test = tested({
      exit: [300, 450, 600, 750, 900, 1050, 250, 400, 520, 640, 800, 990],
      event: [0, 0, 0, 0, 0, 0, 1, 0, 1, 0, 0, 0],
      group: { codes: [0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1], labels: ["A", "B"] },
    });
    expect(test.groups.map(({ observed, expected }) => [observed, expected])).toEqual([
      [0, 1],
      [2, 1],
    ]);
    expectRelative(test.chiSquare, 2, 1e-12);
    expectRelative(test.p, 0.1572992071, 1e-9);
  });

  it("warns of the single knee revised first, whose chi-square is 60 (reference: R survival)", () => {
    const many = Array.from({ length: 60 }, (_, at) => at);
    const test = tested({
      exit: [1, ...many.map((at) => 110 + 10 * at)],
      event: [1, ...many.map((at) => (at % 3 === 0 ? 1 : 0))],
      group: { codes: [0, ...many.map(() => 1)], labels: ["x", "y"] },
    });
    expectRelative(test.chiSquare, 60, 1e-12);
    expect(test.p).toBeCloseTo(9.5e-15, 16);
    expect(groupsExpectingTooFew(test)).toEqual(["x"]);
  });

  it("trusts a group that expects exactly 5 events, and none that expects fewer", () => {
    const groups = [5, 4.999].map((expected, at) => ({ group: `${at}`, cases: 9, observed: 5, expected }));
    expect(groupsExpectingTooFew({ ...tested(TWELVE_KNEES), groups })).toEqual(["1"]);
  });

  it("counts the cases of each group over its strata", () => {
    const rows = {
      exit: [1, 2, 3, 4, 5],
      event: [1, 1, 1, 0, 1],
      group: { codes: [0, 1, 1, 1, 0], labels: ["a", "b"] },
      stratum: { codes: [0, 0, 1, 0, 1], labels: ["x", "y"] },
    };
    expect(tested(rows).groups.map(({ cases }) => cases)).toEqual([2, 3]);
  });

  it("stores a tiny p from the upper tail, never 0 (reference: R survival)", () => {
    const half = Array.from({ length: 70 }, (_, at) => at);
    const test = tested({
      exit: [...half.map((at) => 20 + 3 * at), ...half.map((at) => 1500 + 5 * at)],
      event: [...half.map(() => 1), ...half.map(() => 0)],
      group: { codes: [...half.map(() => 0), ...half.map(() => 1)], labels: ["open", "vacuum"] },
    });
    expectRelative(test.chiSquare, 170.7775686, 1e-9);
    expectRelative(test.p, 5.004261246e-39, 1e-7);
  });

  it("counts revisions on day 0 with every knee at risk", () => {
    const test = tested({
      exit: [0, 0, 5, 10, 15, 20, 20, 30],
      event: [1, 0, 1, 0, 1, 0, 0, 0],
      group: { codes: [0, 1, 0, 1, 0, 1, 0, 1], labels: ["no", "yes"] },
    });
    // At risk 4 of 8, 3 of 6 and 2 of 4: one half each time.
    expectRelative(test.groups[0]?.expected, 1.5, 1e-15);
    expectRelative(test.chiSquare, (1.5 * 1.5) / 0.75, 1e-12);
  });
});

interface ReferenceTest {
  readonly U: readonly number[];
  readonly V: readonly (readonly number[])[];
  readonly chisq: number;
  readonly df: number;
  readonly p: number;
}

function weighted(name: string): LogRankOptions {
  return { weighting: weightingOf(name) ?? "equal" };
}

function expectAllWithin(actual: readonly number[], expected: readonly number[], distance: number): void {
  expect(actual.length).toBe(expected.length);
  for (const [at, value] of expected.entries()) {
    expect(Math.abs((actual[at] ?? Number.NaN) - value), `element ${at}`).toBeLessThanOrEqual(distance);
  }
}
