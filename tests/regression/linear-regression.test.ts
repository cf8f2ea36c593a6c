import { describe, expect, it } from "vitest";
import type { Column } from "../../src/base/column.ts";
import { type LinearOptions, linearRegression } from "../../src/regression/linear-regression.ts";
import { modelMatrix } from "../../src/regression/model-terms.ts";
import type { OutcomeColumns } from "../../src/regression/outcome-rows.ts";
import { categoryTerm } from "../../src/regression/term-category.ts";
import { numberTerm } from "../../src/regression/term-number.ts";
import type { TermPlan } from "../../src/regression/term-plan.ts";
import {
  expectAllRelative,
  expectRelative,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../reference/record.ts";
import { fileLevels, fileNumbers, levels, numbers } from "./some-table.ts";

function fitted(
  data: OutcomeColumns,
  table: readonly Column[],
  terms: readonly TermPlan[],
  options: LinearOptions = {},
) {
  const answer = linearRegression(data, modelMatrix(table, terms), options);
  if (!answer.computed) throw new Error(answer.because);
  return answer;
}

type Fit = ReturnType<typeof fitted>;
const coefficients = ({ columns }: Fit) =>
  columns.map(({ coefficient }) => (coefficient.computed ? coefficient : null));
const estimates = (fit: Fit) => coefficients(fit).map((one) => one?.estimate ?? null);

const expectMatrix = (
  actual: readonly (readonly number[])[],
  expected: readonly number[][],
  relative: number,
) => {
  actual.forEach((row, at) => {
    expectAllRelative([...row], expected[at] ?? [], relative);
  });
};

describe("linearRegression()", () => {
  it("meets certified coefficients of badly conditioned columns (published: NIST)", () => {
    const record = referenceRecord("22_linear", "linear.longley");
    const rows = referenceRows("longley.csv");
    const fields = ["GNP.deflator", "GNP", "Unemployed", "Armed.Forces", "Population", "Year"];
    const fit = fitted(
      { outcome: numberColumn(rows, "Employed") },
      fields.map((field) => fileNumbers(rows, field)),
      fields.map((field) => numberTerm(field)),
    );
    expectAllRelative(estimates(fit), record.published.figures, 1e-9);
    expectAllRelative(
      coefficients(fit).map((one) => one?.standardError ?? null),
      record.expected.se,
      1e-8,
    );
    expectRelative(fit.residualDeviation, record.expected.residualSd, 1e-8);
    expect(fit.wald).toMatchObject({ computed: true, degreesOfFreedom: 6, degreesBeneath: 9 });
    if (fit.wald.computed) {
      expectRelative(fit.wald.chiSquare / 6, record.expected.fStatistic[0], 1e-8);
      expectRelative(fit.wald.p, record.expected.p, 1e-8);
    }
  });

  const record = referenceRecord("22_linear", "linear.lalonde");
  const rows = referenceRows("lalonde.csv");
  const table = [
    ...["treat", "age", "educ", "married"].map((field) => fileNumbers(rows, field)),
    fileLevels(rows, "race"),
  ];
  const terms = [
    numberTerm("treat"),
    numberTerm("age"),
    numberTerm("educ"),
    categoryTerm("race", { reference: "black" }),
    numberTerm("married"),
  ];
  const outcome = numberColumn(rows, "re78");
  const cluster = { codes: numberColumn(rows, "educ"), word: "school" };
  const weight = { kind: "sampling", values: rows.map((_, at) => 1 + ((at + 1) % 5) / 2) } as const;

  it("meets model-based, robust and clustered variance, plain and with sampling weights", () => {
    const { plain, weighted } = record.expected;
    const forms = [
      { data: { outcome }, options: {}, theirs: plain, part: "modelVcov" },
      { data: { outcome }, options: { variance: "robust" }, theirs: plain, part: "hc0" },
      { data: { outcome, cluster }, options: {}, theirs: plain, part: "clustered" },
      { data: { outcome, weight }, options: {}, theirs: weighted, part: "hc0" },
      { data: { outcome, weight, cluster }, options: {}, theirs: weighted, part: "clustered" },
    ] as const;
    for (const { data, options, theirs, part } of forms) {
      const fit = fitted(data, table, terms, options);
      expectAllRelative(estimates(fit), theirs.coef, 1e-8);
      expectMatrix(fit.covariance, theirs[part], 1e-8);
    }
  });

  it("gives copies as the row repeated (identity)", () => {
    const copies = rows.map((_, at) => at % 3);
    const again = rows.flatMap((_, at) => new Array<number>(at % 3).fill(at));
    const repeated = table.map((column): Column => {
      if (column.kind === "number")
        return numbers(
          column.field,
          again.map((row) => column.values[row] ?? 0),
        );
      if (column.kind !== "code") throw new Error("no such column");
      return levels(
        column.field,
        column.codes,
        again.map((row) => column.codes[column.values[row] ?? 0] ?? ""),
      );
    });
    for (const options of [{}, { variance: "robust" } as const]) {
      const whole = fitted({ outcome: again.map((row) => outcome[row] ?? 0) }, repeated, terms, options);
      const weighted = fitted({ outcome, weight: { kind: "copies", values: copies } }, table, terms, options);
      expectAllRelative(estimates(weighted), estimates(whole) as number[], 1e-9);
      expectMatrix(weighted.covariance, whole.covariance as number[][], 1e-9);
      expectRelative(weighted.residualDeviation, whole.residualDeviation, 1e-12);
    }
  });

  it("does not change intervals when sampling weights are multiplied (identity)", () => {
    const once = fitted({ outcome, weight }, table, terms);
    const more = { kind: "sampling", values: weight.values.map((value) => 1000 * value) } as const;
    expectMatrix(
      fitted({ outcome, weight: more }, table, terms).covariance,
      once.covariance as number[][],
      1e-10,
    );
  });

  it("finds the likelihood ratio that two fits give (twin)", () => {
    const whole = fitted({ outcome }, table, terms);
    const without = fitted({ outcome }, table, terms.slice(1));
    const squares = (fit: Fit) =>
      fit.residualDeviation * fit.residualDeviation * (fit.rows - fit.parameters - 1);
    const ratio = whole.terms[0]?.likelihoodRatio;
    expect(ratio?.computed).toBe(true);
    if (ratio?.computed)
      expectRelative(ratio.chiSquare, rows.length * Math.log(squares(without) / squares(whole)), 1e-9);
  });

  it("names columns that say nothing of their own", () => {
    const more = [
      ...table,
      numbers(
        "three",
        rows.map(() => 3),
      ),
      numbers(
        "twice",
        numberColumn(rows, "age").map((age) => 2 * age + 1),
      ),
    ];
    const fit = fitted({ outcome }, more, [...terms, numberTerm("three"), numberTerm("twice")]);
    expect(fit.columns.at(-2)?.coefficient).toMatchObject({ computed: false, code: "constant" });
    expect(fit.columns.at(-1)?.coefficient).toMatchObject({
      computed: false,
      code: "collinear",
      because: "the column is given by age",
    });
    expect(fit.terms.at(-1)?.wald).toMatchObject({ computed: false, code: "nothing-to-test" });
    expectAllRelative(estimates(fit).slice(0, -2), record.expected.plain.coef, 1e-8);
  });

  it.each([
    ["nobody", [], [], "fewer-rows-than-parameters"],
    ["one row", [1], [2], "fewer-rows-than-parameters"],
    ["as many rows as coefficients", [1, 2], [2, 3], "fewer-rows-than-parameters"],
    ["an outcome given without error", [1, 2, 3, 4], [3, 5, 7, 9], "no-spread"],
    ["an outcome of one value", [1, 2, 3, 4], [5, 5, 5, 5], "no-spread"],
  ])("says why there is no answer: %s", (_, x, y, code) => {
    const answer = linearRegression({ outcome: y }, modelMatrix([numbers("x", x)], [numberTerm("x")]));
    expect(answer).toMatchObject({ computed: false, code, because: expect.stringMatching(/^\D+$/) });
  });

  const matrix = modelMatrix([numbers("x", [1, 2, null, 4, 5])], [numberTerm("x")]);
  const five = [1, 2, 3, 5, 4];
  it.each([
    ["an outcome of the rows left", { outcome: [1, 2, 5, 4] }, {}, /outcome has 4 elements/],
    [
      "an outcome that is not finite",
      { outcome: [1, Number.NaN, 3, 4, 5] },
      {},
      /row 2, outcome: must be a finite/,
    ],
    [
      "weights of another length",
      { outcome: five, weight: { kind: "copies", values: [1] } },
      {},
      /weight has 1/,
    ],
    [
      "copies that are not whole",
      { outcome: five, weight: { kind: "copies", values: [1, 0.5, 1, 1, 1] } },
      {},
      /row 2, weight: must be a whole number/,
    ],
    ["a clustered variance without clusters", { outcome: five }, { variance: "clustered" }, /needs clusters/],
    [
      "a model-based variance with sampling weights",
      { outcome: five, weight: { kind: "sampling", values: five } },
      { variance: "model" },
      /no model-based variance/,
    ],
    ["a level in per cent", { outcome: five }, { level: 95 }, /write 0.95/],
  ] as const)("refuses %s", (_, data, options, words) => {
    expect(() => linearRegression(data as OutcomeColumns, matrix, options)).toThrow(words);
  });
});
