import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { modelMatrix } from "../../src/regression/model-terms.ts";
import { categoryTerm } from "../../src/regression/term-category.ts";
import { curveTerm } from "../../src/regression/term-curve.ts";
import { curveBasis } from "../../src/regression/term-curve-basis.ts";
import { interactionTerm } from "../../src/regression/term-interaction.ts";
import { numberTerm } from "../../src/regression/term-number.ts";
import { periodTerm } from "../../src/regression/term-period.ts";
import { days, levels, numbers } from "./some-table.ts";

const table = [
  numbers("age", [50, 60, null, 70, 80]),
  levels("stage", ["early", "middle", "late"], ["early", "late", "late", null, "early"], "not asked"),
  days("operation", [10, 20, 30, 40, 20]),
];
const early = categoryTerm("stage", { reference: "early" });
const values = (matrix: ReturnType<typeof modelMatrix>) => matrix.columns.map((column) => [...column.values]);

describe("modelMatrix()", () => {
  it("names columns and terms, and counts each lost row once under the first reason", () => {
    const matrix = modelMatrix(table, [numberTerm("age", { per: 10, unit: "years" }), early]);
    expect([...matrix.rows]).toEqual([0, 1, 4]);
    expect(matrix.columns.map(({ name }) => name)).toEqual([
      "age, per 10 years",
      "stage: late against early",
    ]);
    expect(values(matrix)).toEqual([
      [5, 6, 8],
      [0, 1, 0],
    ]);
    expect(matrix.terms).toEqual([
      { name: "age, per 10 years", kind: "number", from: 0, columns: 1 },
      { name: "stage", kind: "category", from: 1, columns: 1, reference: "early" },
    ]);
    expect(matrix.lost).toEqual([
      { term: "age, per 10 years", reason: "not recorded", rows: 1 },
      { term: "stage", reason: "not asked", rows: 1 },
    ]);
  });

  it("reads only the rows asked for", () => {
    const matrix = modelMatrix(table, [numberTerm("age")], { rows: [1, 2, 4] });
    expect([...matrix.rows]).toEqual([1, 4]);
    expect(matrix.lost).toEqual([{ term: "age", reason: "not recorded", rows: 1 }]);
  });

  it("takes a map of columns as well as a list, and leaves them alone", () => {
    const before = structuredClone(table);
    const byName = new Map(table.map((column) => [column.field, column]));
    expect(modelMatrix(byName, [early])).toEqual(modelMatrix(table, [early]));
    expect(table).toEqual(before);
  });

  it("puts a value on a cut in the period before it", () => {
    const period = periodTerm("operation", { cuts: [20, 35], labels: ["first", "second", "third"] });
    const matrix = modelMatrix(table, [period]);
    expect(matrix.columns.map(({ name }) => name)).toEqual([
      "operation: second against first",
      "operation: third against first",
    ]);
    expect(values(matrix)).toEqual([
      [0, 0, 1, 0, 0],
      [0, 0, 0, 1, 0],
    ]);
  });

  it("multiplies every column of one term with every column of the other", () => {
    const matrix = modelMatrix(table, [interactionTerm(numberTerm("age"), early)]);
    expect(matrix.columns.map(({ name }) => name)).toEqual(["age × stage: late against early"]);
    expect(values(matrix)).toEqual([[0, 60, 0]]);
  });

  it("refuses more columns than a fit ends with", () => {
    const names = (count: number) => Array.from({ length: count }, (_, level) => `level ${level}`);
    const many = (count: number) => levels("surgeon", names(count), names(count));
    const term = categoryTerm("surgeon", { reference: "level 0" });
    expect(modelMatrix([many(501)], [term]).columns).toHaveLength(500);
    expect(() => modelMatrix([many(502)], [term])).toThrow(/term "surgeon" would make 501 columns/);
    const ages = numbers("age", [...names(501).keys()]);
    expect(() => modelMatrix([many(501), ages], [numberTerm("age"), term])).toThrow(
      /together would make 501/,
    );
  });

  it("holds nobody where no row can be used", () => {
    const matrix = modelMatrix(
      [numbers("age", [null, null]), levels("stage", ["a", "b"], ["a", "b"])],
      [curveTerm("age"), categoryTerm("stage", { reference: "a" })],
    );
    expect(matrix.rows.length).toBe(0);
    expect(matrix.lost).toEqual([{ term: "age", reason: "not recorded", rows: 2 }]);
  });
});

describe("curveTerm()", () => {
  const knots = [1, 2, 4, 7];

  it("follows the formula at hand-worked points (closed form)", () => {
    expect(curveBasis(knots, 0.5)).toEqual([0.5, 0, 0]);
    // x = 3: (3−1)³/36 and (3−2)³/36; the tails have not begun.
    expect(curveBasis(knots, 3)).toEqual([3, 8 / 36, 1 / 36]);
    // x = 5: the second last knot, 4, has been passed: less 1³·(7−1)/3, and less 1³·(7−2)/3.
    const [, first, second] = curveBasis(knots, 5);
    expect(first).toBeCloseTo((64 - 2) / 36, 14);
    expect(second).toBeCloseTo((27 - 5 / 3) / 36, 14);
  });

  it("is straight outside the outer knots and smooth at each knot", () => {
    const bend = (x: number, column: number) => curveBasis(knots, x)[column] ?? 0;
    const second = (x: number, column: number, h: number) =>
      (bend(x + h, column) - 2 * bend(x, column) + bend(x - h, column)) / (h * h);
    for (const column of [1, 2]) {
      for (const x of [-3, 0, 8, 20]) expect(Math.abs(second(x, column, 0.5))).toBeLessThan(1e-10);
      for (const knot of knots) {
        expect(Math.abs(second(knot - 1e-3, column, 1e-4) - second(knot + 1e-3, column, 1e-4))).toBeLessThan(
          0.02,
        );
      }
    }
  });

  it("takes its knots from quantiles of the rows used, and carries them", () => {
    const age = numbers("age", [9, 1, 2, 3, 4, 5, 6, 7, 8, null]);
    const matrix = modelMatrix([age], [curveTerm("age", { quantiles: [0.25, 0.5, 0.9] })]);
    expect(matrix.terms[0]?.knots?.[0]).toBe(3);
    expect(matrix.terms[0]?.knots?.[1]).toBe(5);
    expect(matrix.terms[0]?.knots?.[2]).toBeCloseTo(8.2, 14);
    expect(matrix.columns.map(({ name }) => name)).toEqual(["age: straight part", "age: bend 1 of 1"]);
    const [, bend] = values(matrix);
    expect(bend?.[0]).toBe(curveBasis(matrix.terms[0]?.knots ?? [], 9)[1]);
  });
});

describe("model terms refuse", () => {
  const only = (...wanted: (string | null)[]) => [levels("stage", ["early", "late"], wanted)];

  it.each([
    [
      "a column the table lacks",
      () => modelMatrix(table, [numberTerm("weight")]),
      /it has age, stage, operation/,
    ],
    ["numbers of a category", () => modelMatrix(table, [numberTerm("stage")]), /holds codes/],
    [
      "a category of numbers",
      () => modelMatrix(table, [categoryTerm("age", { reference: "50" })]),
      /needs a column of codes/,
    ],
    [
      "a reference that is no level",
      () => modelMatrix(table, [categoryTerm("stage", { reference: "none" })]),
      /levels are early, middle, late/,
    ],
    [
      "a reference that does not occur",
      () => modelMatrix(table, [categoryTerm("stage", { reference: "middle" })]),
      /"middle" does not occur/,
    ],
    ["one level left", () => modelMatrix(only("early", null, "early"), [early]), /only "early" is left/],
    [
      "a value that is not finite",
      () => modelMatrix([numbers("age", [1, Number.POSITIVE_INFINITY])], [numberTerm("age")]),
      /row 2, term "age": the value is not a finite number/,
    ],
    ["two terms of one name", () => modelMatrix(table, [early, early]), /two terms are called "stage"/],
    ["a step of nothing", () => numberTerm("age", { per: 0 }), /per must be a finite number above 0/],
    ["two knots", () => curveTerm("age", { knots: [1, 2] }), /three or more/],
    ["knots in disorder", () => curveTerm("age", { knots: [1, 3, 2] }), /ascending/],
    [
      "quantiles that fall together",
      () => modelMatrix([numbers("age", [1, 1, 1])], [curveTerm("age")]),
      /knots/,
    ],
    ["cuts in disorder", () => periodTerm("age", { cuts: [2, 1], labels: ["a", "b", "c"] }), /ascending/],
    ["a label too few", () => periodTerm("age", { cuts: [1], labels: ["a"] }), /needs 2 different labels/],
    ["rows in disorder", () => modelMatrix(table, [early], { rows: [1, 0] }), /ascending; see element 2/],
    [
      "columns of several lengths",
      () => modelMatrix([numbers("age", [1]), numbers("size", [1, 2])], [numberTerm("age")]),
      /"size" has 2 rows and "age" has 1/,
    ],
  ])("%s", (_, attempt, words) => {
    expect(attempt).toThrow(words);
  });

  it("without printing a value", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1000, max: 9999 }), (value) => {
        const column = { ...numbers("size", [value, 1]), values: Float64Array.of(value, Number.NaN) };
        try {
          modelMatrix([column], [numberTerm("size")]);
        } catch (error) {
          return !String(error).includes(`${value}`);
        }
        return false;
      }),
    );
  });
});
