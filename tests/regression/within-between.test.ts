import { describe, expect, it } from "vitest";
import { coxRegression } from "../../src/regression/cox-regression.ts";
import { hazardRatiosWithinBetween } from "../../src/regression/hazard-ratios-within-between.ts";
import { withinBetween } from "../../src/regression/within-between.ts";
import { expectAllRelative, expectRelative, referenceRecord } from "../reference/record.ts";
import { type CoxExample, lung, matrixOf, present } from "./cox-examples.ts";
import { drawnExample } from "./drawn-example.ts";
import { naiveMaximum } from "./naive-cox.ts";

const surgeons = { codes: [7, 7, 2, 2, 2, 2], word: "surgeon" };

describe("withinBetween()", () => {
  it("gives each row its cluster's mean and the deviation from it (by hand)", () => {
    const values = Float64Array.of(1, 0, 1, 1, 1, 0);
    const { within, between } = withinBetween({ name: "step", values }, surgeons);
    expect([...between.values]).toEqual([0.5, 0.5, 0.75, 0.75, 0.75, 0.75]);
    expect([...within.values]).toEqual([0.5, -0.5, 0.25, 0.25, 0.25, -0.75]);
    expect([within.name, between.name]).toEqual(["step, within a surgeon", "step, between surgeons"]);
    expect([...values]).toEqual([1, 0, 1, 1, 1, 0]);
  });

  it("weighs the mean, and leaves exactly nothing within clusters of equal values", () => {
    const values = Float64Array.of(1, 0, 0.1, 0.1, 0.1, 0.1);
    const { within, between } = withinBetween({ name: "x", values }, surgeons, [3, 1, 1, 2, 5, 1]);
    expect([...between.values]).toEqual([0.75, 0.75, 0.1, 0.1, 0.1, 0.1]);
    expect([...within.values.subarray(2)]).toEqual([0, 0, 0, 0]);
  });

  it("needs a code and a weight for every value", () => {
    const column = { name: "x", values: Float64Array.of(1, 2) };
    expect(() => withinBetween(column, surgeons)).toThrow("2 values and there are 6 cluster codes");
    const codes = { codes: [0, 1], word: "ward" };
    expect(() => withinBetween(column, codes, [1])).toThrow("2 values and there are 1 weights");
  });
});

/** Forty drawn rows, with x split by its ward and z left out. */
function splitExample(seed: number): { whole: CoxExample; split: CoxExample } {
  const { columns, matrix } = drawnExample(seed, { clustered: true });
  const x = [...(matrix.columns[0]?.values ?? [])];
  const codes = Array.from(columns.cluster?.codes ?? []);
  const mean = (row: number) => {
    const own = x.filter((_, other) => codes[other] === codes[row]);
    return own.reduce((sum, value) => sum + value, 0) / own.length;
  };
  return {
    whole: { columns, matrix: matrixOf({ x }) },
    split: {
      columns,
      matrix: matrixOf({
        within: x.map((value, row) => value - mean(row)),
        between: x.map((_, row) => mean(row)),
      }),
    },
  };
}

describe("hazardRatiosWithinBetween()", () => {
  it("meets cox.lung_within_between", () => {
    const { columns, matrix } = lung({ clustered: true });
    const ecog = [...(matrix.columns[2]?.values ?? [])];
    const ratios = present(hazardRatiosWithinBetween(columns, matrixOf({ ecog }), { term: "ecog" }));
    const { expected } = referenceRecord("23_frailty", "cox.lung_within_between");
    expectAllRelative(
      [ratios.within, ratios.between].map(({ hazardRatio }) => present(hazardRatio).logRatio),
      expected.coef,
      1e-8,
    );
    expectRelative(present(ratios.difference).chiSquare, expected.differenceChisq, 1e-8);
  });

  it("finds the highest point of the plainly written likelihood (twin)", () => {
    const { whole, split } = splitExample(5);
    const ratios = present(hazardRatiosWithinBetween(whole.columns, whole.matrix, { term: "x" }));
    const { at } = naiveMaximum(split, "efron");
    [ratios.within, ratios.between].forEach(({ hazardRatio }, place) => {
      expect(present(hazardRatio).logRatio).toBeCloseTo(at[place] ?? 0, 6);
    });
    expect(ratios).toMatchObject({ cluster: "ward", term: "x", average: { column: "x" } });
  });

  it("tests the difference as the coefficient of the mean beside the column itself (identity)", () => {
    for (const seed of [5, 6, 7]) {
      const { whole, split } = splitExample(seed);
      const { difference } = present(hazardRatiosWithinBetween(whole.columns, whole.matrix, { term: "x" }));
      const columns = { x: whole.matrix.columns[0], mean: split.matrix.columns[1] };
      const beside = matrixOf(
        Object.fromEntries(
          Object.entries(columns).map(([name, column]) => [name, [...(column?.values ?? [])]]),
        ),
      );
      const fit = present(coxRegression(whole.columns, beside));
      const mean = present(fit.columns[1]?.hazardRatio ?? fit.wald);
      if (!("statistic" in mean)) throw new Error("no ratio");
      expectRelative(present(difference).chiSquare, mean.statistic ** 2, 1e-7);
      expectRelative(present(difference).p, mean.p, 1e-7);
    }
  });

  it("keeps the other terms in their places", () => {
    const { columns, matrix } = drawnExample(9, { clustered: true });
    const ratios = present(hazardRatiosWithinBetween(columns, matrix, { term: "x" }));
    expect(ratios.fits.split.columns.map(({ column, term }) => [column, term])).toEqual([
      ["x, within a ward", "x"],
      ["x, between wards", "x"],
      ["z", "z"],
    ]);
    expect(ratios.fits.split.terms.map(({ term }) => term)).toEqual(["x", "z"]);
  });

  it("says that a column which no cluster varies in has no ratio within", () => {
    const columns = {
      exit: [1, 2, 3, 4, 5, 6],
      event: [1, 1, 0, 1, 1, 1],
      cluster: { codes: [0, 0, 1, 1, 2, 2], word: "surgeon" },
    };
    const ratios = present(
      hazardRatiosWithinBetween(columns, matrixOf({ x: [1, 1, 0, 0, 1, 1] }), {
        term: "x",
        variance: "model",
      }),
    );
    expect(ratios.within.hazardRatio).toMatchObject({ computed: false, code: "constant" });
    expect(ratios.difference).toMatchObject({ computed: false, code: "not-estimable" });
    expect(present(ratios.between.hazardRatio).ratio).toBeCloseTo(
      present(ratios.average.hazardRatio).ratio,
      12,
    );
  });

  it("refuses what cannot be split, in words, and passes on that nothing happened", () => {
    const { columns, matrix } = drawnExample(1, { clustered: true });
    const { cluster: _, ...without } = columns;
    expect(() => hazardRatiosWithinBetween(without, matrix, { term: "x" })).toThrow("name the cluster");
    expect(() => hazardRatiosWithinBetween(columns, matrix, { term: "y" })).toThrow('"y"');
    const wide = { ...matrix, terms: [{ name: "both", kind: "curve", from: 0, columns: 2 } as const] };
    expect(() => hazardRatiosWithinBetween(columns, wide, { term: "both" })).toThrow("has 2 columns");
    const event = Array.from(columns.event, () => 0);
    expect(hazardRatiosWithinBetween({ ...columns, event }, matrix, { term: "x" })).toMatchObject({
      code: "no-events",
    });
  });
});
