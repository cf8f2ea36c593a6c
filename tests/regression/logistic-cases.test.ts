import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Column } from "../../src/base/column.ts";
import { randomStreams } from "../../src/base/random-streams.ts";
import { type LogisticOptions, logisticRegression } from "../../src/regression/logistic-regression.ts";
import { modelMatrix } from "../../src/regression/model-terms.ts";
import type { OutcomeColumns } from "../../src/regression/outcome-rows.ts";
import { categoryTerm } from "../../src/regression/term-category.ts";
import { numberTerm } from "../../src/regression/term-number.ts";
import type { TermPlan } from "../../src/regression/term-plan.ts";
import { expectAllRelative, expectRelative } from "../reference/record.ts";
import { levels, numbers } from "./some-table.ts";

function fitted(
  data: OutcomeColumns,
  table: readonly Column[],
  terms: readonly TermPlan[],
  options: LogisticOptions = {},
) {
  const answer = logisticRegression(data, modelMatrix(table, terms), options);
  if (!answer.computed) throw new Error(answer.because);
  return answer;
}

type Fit = ReturnType<typeof fitted>;
const estimates = ({ columns }: Fit) =>
  columns.map(({ coefficient }) => (coefficient.computed ? coefficient.estimate : null));

/** 200 invented rows with a known slope of the number and no effect of the level. */
function invented(seed: number, rows = 200) {
  const stream = randomStreams(seed).stream("logistic rows");
  const x = Array.from({ length: rows }, () => stream.uniform() * 4 - 2);
  const level = x.map(() => ["a", "b", "c"][stream.below(3)] ?? "a");
  const outcome = x.map((value) => (stream.uniform() < 1 / (1 + Math.exp(0.5 - value)) ? 1 : 0));
  return { x, level, outcome, table: [numbers("x", x), levels("level", ["a", "b", "c"], level)] };
}

const terms = [numberTerm("x"), categoryTerm("level", { reference: "a" })];

/** The likelihood as it is written in a textbook, climbed by ever smaller steps along each coordinate. */
function climbed(x: readonly (readonly number[])[], y: readonly number[]): number[] {
  const value = (b: readonly number[]) =>
    x.reduce((sum, row, at) => {
      const linear = row.reduce((one, cell, k) => one + cell * (b[k] ?? 0), 0);
      return sum + (y[at] ?? 0) * linear - Math.log(1 + Math.exp(linear));
    }, 0);
  const b = (x[0] ?? []).map(() => 0);
  for (let step = 1; step > 1e-7; ) {
    let isHigher = false;
    for (const k of b.keys()) {
      for (const sign of [1, -1]) {
        const tried = b.with(k, (b[k] ?? 0) + sign * step);
        if (value(tried) <= value(b)) continue;
        b.splice(0, b.length, ...tried);
        isHigher = true;
      }
    }
    if (!isHigher) step /= 2;
  }
  return b;
}

describe("logisticRegression()", () => {
  it("finds the top of the plainly written likelihood (twin)", () => {
    const { x, level, outcome, table } = invented(41, 80);
    const fit = fitted({ outcome }, table, terms);
    const design = x.map((value, at) => [1, value, level[at] === "b" ? 1 : 0, level[at] === "c" ? 1 : 0]);
    const twin = climbed(design, outcome);
    estimates(fit).forEach((estimate, at) => {
      expect(Math.abs((estimate ?? 0) - (twin[at] ?? 0))).toBeLessThan(1e-4);
    });
  });

  it("gives the odds ratio of a two-by-two table (closed form)", () => {
    const arm = [...new Array<string>(30).fill("a"), ...new Array<string>(40).fill("b")];
    const outcome = arm.map((one, at) => (one === "a" ? (at < 10 ? 1 : 0) : at < 55 ? 1 : 0));
    const fit = fitted(
      { outcome },
      [levels("arm", ["a", "b"], arm)],
      [categoryTerm("arm", { reference: "a" })],
    );
    const effect = fit.columns[1]?.coefficient;
    expect(effect?.computed).toBe(true);
    if (!effect?.computed) return;
    expectRelative(effect.ratio?.value, 25 / 15 / (10 / 20), 1e-12);
    expectRelative(effect.standardError, Math.sqrt(1 / 10 + 1 / 20 + 1 / 25 + 1 / 15), 1e-12);
  });

  it("is the same fit with another reference (identity)", () => {
    const { outcome, table } = invented(7);
    const fits = ["a", "b"].map((reference) =>
      fitted({ outcome }, table, [numberTerm("x"), categoryTerm("level", { reference })]),
    );
    expectRelative(fits[0]?.logLikelihood, fits[1]?.logLikelihood ?? 0, 1e-12);
    const [a, b] = fits.map(estimates);
    expectRelative(a?.[2], -(b?.[2] ?? 0), 1e-9);
    expectRelative(a?.[1], b?.[1] ?? 0, 1e-9);
  });

  it("does not depend on the order of rows, nor on the unit of a number (identities)", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 50 }), fc.constantFrom(1e-6, 0.01, 365.25, 1e8), (seed, unit) => {
        const { x, level, outcome } = invented(seed, 120);
        const order = [...x.keys()].sort((a, b) => Math.sin(a * 91.7 + seed) - Math.sin(b * 91.7 + seed));
        const table = (rows: readonly number[], times: number) => [
          numbers(
            "x",
            rows.map((row) => (x[row] ?? 0) * times + 3 * times),
          ),
          levels(
            "level",
            ["a", "b", "c"],
            rows.map((row) => level[row] ?? null),
          ),
        ];
        const plain = fitted({ outcome }, table([...x.keys()], 1), terms);
        const other = fitted({ outcome: order.map((row) => outcome[row] ?? 0) }, table(order, unit), terms);
        expectRelative((estimates(other)[1] ?? 0) * unit, estimates(plain)[1] ?? 0, 1e-8);
        expectRelative(other.logLikelihood, plain.logLikelihood, 1e-12);
        expectAllRelative(estimates(other).slice(2), estimates(plain).slice(2) as number[], 1e-6);
      }),
      { numRuns: 30 },
    );
  });

  it("gives copies as the row repeated, and clusters of one row as the robust variance (identities)", () => {
    const { outcome, table, x } = invented(3);
    const values = x.map((_, at) => at % 3);
    const again = x.flatMap((_, at) => new Array<number>(at % 3).fill(at));
    const matrix = modelMatrix(table, terms);
    const repeated = {
      ...matrix,
      rows: Int32Array.from(again.keys()),
      columns: matrix.columns.map(({ name, values: own }) => ({
        name,
        values: Float64Array.from(again, (row) => own[row] ?? 0),
      })),
    };
    for (const variance of ["model", "robust"] as const) {
      const copies = fitted({ outcome, weight: { kind: "copies", values } }, table, terms, { variance });
      const rows = logisticRegression({ outcome: again.map((row) => outcome[row] ?? 0) }, repeated, {
        variance,
      });
      if (!rows.computed) throw new Error(rows.because);
      copies.covariance.forEach((line, at) => {
        expectAllRelative([...line], [...(rows.covariance[at] ?? [])], 1e-8);
      });
    }
    const cluster = { codes: x.map((_, at) => at), word: "row" };
    const [one, other] = [
      fitted({ outcome, cluster }, table, terms),
      fitted({ outcome }, table, terms, { variance: "robust" }),
    ];
    expect(one.settings.clusters?.count).toBe(x.length);
    one.covariance.forEach((line, at) => {
      expectAllRelative([...line], [...(other.covariance[at] ?? [])], 1e-9);
    });
  });

  it("widens over few clusters as asked, with t on clusters − 1", () => {
    const { outcome, table, x } = invented(5);
    const cluster = { codes: x.map((_, at) => at % 8), word: "surgeon" };
    const plain = fitted({ outcome, cluster }, table, terms);
    const wide = fitted({ outcome, cluster }, table, terms, { smallSample: "clusters" });
    expectRelative(wide.covariance[1]?.[1], ((plain.covariance[1]?.[1] ?? 0) * 8) / 7, 1e-12);
    expect(plain.settings.degreesOfFreedom).toBe(7);
    expect(plain.wald).toMatchObject({ computed: true, degreesBeneath: 7, variance: "clustered" });
  });
});

describe("logisticRegression() where an outcome is predicted without fault", () => {
  const arm = [
    ...new Array<string>(20).fill("a"),
    ...new Array<string>(20).fill("b"),
    ...new Array<string>(20).fill("c"),
  ];
  const size = arm.map((_, at) => (at * 7) % 11);

  it("names every level of a category whose reference had no event, and the constant", () => {
    const outcome = arm.map((one, at) => (one !== "a" && (at * 5) % 3 === 0 ? 1 : 0));
    const fit = fitted(
      { outcome },
      [levels("arm", ["a", "b", "c"], arm), numbers("size", size)],
      [categoryTerm("arm", { reference: "a" }), numberTerm("size")],
    );
    expect(
      fit.columns.map(({ coefficient }) => (coefficient.computed ? "computed" : coefficient.code)),
    ).toEqual(["separation", "separation", "separation", "computed"]);
    expect(fit.columns.map(({ separation }) => separation?.tends)).toEqual(["down", "up", "up", undefined]);
    expect(fit.terms[0]?.wald).toMatchObject({ computed: false, code: "separation" });
    // What the others tend to is the fit without the level that had none.
    const rest = arm.flatMap((one, at) => (one === "a" ? [] : [at]));
    const limit = fitted(
      { outcome: rest.map((at) => outcome[at] ?? 0) },
      [
        levels(
          "arm",
          ["b", "c"],
          rest.map((at) => arm[at] ?? ""),
        ),
        numbers(
          "size",
          rest.map((at) => size[at] ?? 0),
        ),
      ],
      [categoryTerm("arm", { reference: "b" }), numberTerm("size")],
    );
    expectRelative(estimates(fit)[3], estimates(limit)[2] ?? 0, 1e-7);
    expectRelative(fit.logLikelihood, limit.logLikelihood, 1e-8);
    expectRelative(fit.covariance[0]?.[0], limit.covariance[2]?.[2] ?? 0, 1e-6);
  });

  it("tests such a level against the likelihood without it, and gives the limit where it fell by the quantile", () => {
    const outcome = arm.map((one, at): number => (one === "c" || (at * 5) % 3 === 0 ? 1 : 0));
    const table = [levels("arm", ["a", "b", "c"], arm)];
    const fit = fitted({ outcome }, table, [categoryTerm("arm", { reference: "a" })]);
    const separation = fit.columns[2]?.separation;
    const merged = arm.map((one) => (one === "c" ? "a" : one));
    const without = fitted(
      { outcome },
      [levels("arm", ["a", "b"], merged)],
      [categoryTerm("arm", { reference: "a" })],
    );
    expect(separation?.likelihoodRatio.computed).toBe(true);
    if (!separation?.likelihoodRatio.computed || !separation.limit.computed) return;
    expectRelative(
      separation.likelihoodRatio.chiSquare,
      2 * (fit.logLikelihood - without.logLikelihood),
      1e-7,
    );
    // With c at a fixed distance from a: the constant is free, level b has its own.
    const distance = separation.limit.value;
    const [a, all] = [outcome.slice(0, 20).reduce((sum, one) => sum + one, 0), 20];
    const top = (b: number) => {
      let best = -Infinity;
      for (let constant = -8; constant <= 8; constant += 1e-4) {
        const here = a * constant - all * Math.log1p(Math.exp(constant));
        const there = 20 * (constant + b) - 20 * Math.log1p(Math.exp(constant + b));
        best = Math.max(best, here + there);
      }
      return best;
    };
    expect(Math.abs(2 * (top(60) - top(distance)) - 3.841458820694124)).toBeLessThan(1e-5);
  });

  it.each([
    ["a number that splits the outcome", size.map((value) => (value > 5 ? 1 : 0))],
    ["its mirror image", size.map((value) => (value > 5 ? 0 : 1))],
  ])("says so for %s", (_, outcome) => {
    const fit = fitted({ outcome }, [numbers("size", size)], [numberTerm("size")]);
    expect(fit.columns.map(({ coefficient }) => coefficient.computed)).toEqual([false, false]);
    expect(fit.columns[1]?.separation?.likelihoodRatio).toMatchObject({ computed: true });
    expect(fit.wald).toMatchObject({ computed: false, code: "separation" });
    expect(fit.covariance).toEqual([]);
  });
});

describe("logisticRegression() says why there is no answer", () => {
  it.each([
    ["nobody", [], [], "no-rows"],
    ["one row", [1], [1], "one-outcome"],
    ["no event", [1, 2, 3], [0, 0, 0], "one-outcome"],
    ["events alone", [1, 2, 3], [1, 1, 1], "one-outcome"],
  ])("%s", (_, x, outcome, code) => {
    const answer = logisticRegression({ outcome }, modelMatrix([numbers("x", x)], [numberTerm("x")]));
    expect(answer).toMatchObject({ computed: false, code });
  });

  it("fewer events than parameters", () => {
    const table = [numbers("x", [1, 2, 3, 4, 5]), numbers("y", [2, 1, 5, 4, 3])];
    const answer = logisticRegression(
      { outcome: [0, 0, 1, 0, 0] },
      modelMatrix(table, [numberTerm("x"), numberTerm("y")]),
    );
    expect(answer).toMatchObject({
      computed: false,
      code: "fewer-events-than-parameters",
      because: expect.stringMatching(/^\D+$/),
    });
  });

  it("one cluster", () => {
    const answer = logisticRegression(
      { outcome: [0, 1, 1, 0], cluster: { codes: [3, 3, 3, 3], word: "surgeon" } },
      modelMatrix([numbers("x", [1, 2, 3, 4])], [numberTerm("x")]),
    );
    expect(answer).toMatchObject({ computed: false, code: "one-cluster" });
  });

  it("without terms gives the constant alone", () => {
    const answer = logisticRegression(
      { outcome: [0, 1, 1, 1] },
      modelMatrix([numbers("x", [1, 2, 3, 4])], []),
    );
    expect(answer.computed).toBe(true);
    if (!answer.computed) return;
    expectAllRelative(estimates(answer), [Math.log(3)], 1e-12);
    expect(answer.wald).toMatchObject({ computed: false, code: "nothing-to-test" });
  });
});

describe("logisticRegression() refuses", () => {
  const matrix = modelMatrix([numbers("x", [1, 2, 3])], [numberTerm("x")]);
  it.each([
    ["an outcome of 2", { outcome: [0, 1, 2] }, {}, /row 3, outcome: must be 0 or 1/],
    ["an outcome for fewer rows", { outcome: [0, 1] }, {}, /outcome has 2 elements/],
    [
      "profile limits with clusters",
      { outcome: [0, 1, 1], cluster: { codes: [1, 2, 3], word: "surgeon" } },
      { interval: "profile" },
      /profile limits believe the model/,
    ],
    [
      "weights below 0",
      { outcome: [0, 1, 1], weight: { kind: "sampling", values: [1, -1, 1] } },
      {},
      /row 2, weight: must be a finite number from 0 up/,
    ],
  ] as const)("%s", (_, data, options, words) => {
    expect(() => logisticRegression(data, matrix, options)).toThrow(words);
  });
});
