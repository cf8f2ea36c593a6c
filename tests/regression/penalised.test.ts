import { describe, expect, it } from "vitest";
import { modelMatrix } from "../../src/regression/model-terms.ts";
import { penalisedCox } from "../../src/regression/penalised-cox.ts";
import type { PenalisedFit } from "../../src/regression/penalised-fit.ts";
import { penalisedLogistic } from "../../src/regression/penalised-logistic.ts";
import { numberTerm } from "../../src/regression/term-number.ts";
import {
  expectAllRelative,
  expectPrinted,
  expectRelative,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../reference/record.ts";
import { climb } from "./climb.ts";
import { fileNumbers, numbers } from "./some-table.ts";

const parts = ({ columns }: PenalisedFit) => {
  const found = columns.map(({ coefficient }) => {
    if (!coefficient.computed) throw new Error(coefficient.because);
    return coefficient;
  });
  return {
    estimate: found.map((one) => one.estimate),
    standardError: found.map((one) => one.standardError),
    lower: found.map((one) => one.lower),
    upper: found.map((one) => one.upper),
    p: found.map((one) => one.p),
  };
};

function matrixOf(file: string, fields: readonly string[]) {
  const rows = referenceRows(file);
  return {
    rows,
    matrix: modelMatrix(
      fields.map((field) => fileNumbers(rows, field)),
      fields.map((field) => numberTerm(field)),
    ),
  };
}

describe("penalisedLogistic()", () => {
  const { expected, published } = referenceRecord("09_logistic_propensity", "firth.endometrial");
  const { rows, matrix } = matrixOf("endometrial.csv", ["NV", "PI", "EH"]);
  const outcome = numberColumn(rows, "HG");
  const fit = penalisedLogistic({ outcome }, matrix);

  it("meets the reference under separation (published: Heinze and Schemper 2002, from memory)", () => {
    if (!fit.computed) throw new Error(fit.because);
    const found = parts(fit);
    expectAllRelative(found.estimate, expected.coef, 1e-7);
    expectAllRelative(found.standardError, Object.values(expected.se), 1e-6);
    expectAllRelative(found.lower, expected.profileLower, 1e-6);
    expectAllRelative(found.upper, expected.profileUpper, 1e-6);
    expectAllRelative(found.p, expected.profileP, 1e-6);
    expectRelative(fit.penalisedLogLikelihood, expected.penalisedLoglik, 1e-9);
    expectPrinted([...found.estimate.slice(1), found.lower[1], found.upper[1]], published.figures, 3);
  });

  it("adds one half to every cell of a two-by-two table (closed form)", () => {
    const x = [...new Array<number>(6).fill(0), ...new Array<number>(8).fill(1)];
    const events = x.map((one, at) => (one === 0 ? 0 : at < 9 ? 1 : 0));
    const answer = penalisedLogistic({ outcome: events }, modelMatrix([numbers("x", x)], [numberTerm("x")]));
    if (!answer.computed) throw new Error(answer.because);
    expectAllRelative(parts(answer).estimate, [Math.log(0.5 / 6.5), Math.log(3.5 / 5.5 / (0.5 / 6.5))], 1e-8);
  });

  it("refuses weights and clusters, with the reason", () => {
    const codes = outcome.map((_, at) => at % 10);
    expect(penalisedLogistic({ outcome, cluster: { codes, word: "surgeon" } }, matrix)).toMatchObject({
      computed: false,
      code: "clusters",
    });
    const weight = { kind: "copies", values: outcome.map(() => 1) } as const;
    expect(penalisedLogistic({ outcome, weight }, matrix)).toMatchObject({
      computed: false,
      code: "weights",
    });
  });

  it.each([
    ["nobody", [], [], "no-rows"],
    ["no event", [1, 2, 3], [0, 0, 0], "one-outcome"],
  ])("says why there is no answer: %s", (_, x, y, code) => {
    const answer = penalisedLogistic({ outcome: y }, modelMatrix([numbers("x", x)], [numberTerm("x")]));
    expect(answer).toMatchObject({ computed: false, code });
  });
});

describe("penalisedCox()", () => {
  const monotone = matrixOf("firth_cox.csv", ["x", "z"]);
  const observed = (rows: readonly Readonly<Record<string, string>>[]) => ({
    exit: numberColumn(rows, "time"),
    event: numberColumn(rows, "status"),
  });

  it("meets the reference where all events lie on one side", () => {
    const { expected } = referenceRecord("09_logistic_propensity", "firth_cox.monotone");
    const fit = penalisedCox(observed(monotone.rows), monotone.matrix, { sameDay: "breslow" });
    if (!fit.computed) throw new Error(fit.because);
    const found = parts(fit);
    expectAllRelative(found.estimate, expected.coef, 1e-6);
    expectAllRelative(found.standardError, expected.se, 1e-6);
    expectAllRelative(found.lower, expected.profileLower, 1e-5);
    expectAllRelative(found.upper, expected.profileUpper, 1e-5);
    expectAllRelative(found.p, expected.profileP, 1e-5);
    expectRelative(fit.logLikelihood, expected.loglik, 1e-6);
    expectRelative(fit.penalisedLogLikelihood, expected.penalisedLoglik, 1e-8);
    expect(fit.likelihoodRatio.computed).toBe(true);
    if (fit.likelihoodRatio.computed) {
      const gain = expected.penalisedLoglik - expected.penalisedLoglikNull;
      expectRelative(fit.likelihoodRatio.chiSquare, 2 * gain, 1e-6);
    }
  });

  it("meets the reference on ordinary data", () => {
    const { expected } = referenceRecord("09_logistic_propensity", "firth_cox.ovarian");
    const { rows, matrix } = matrixOf("ovarian.csv", ["age", "rx"]);
    const fit = penalisedCox(observed(rows), matrix, { sameDay: "breslow" });
    if (!fit.computed) throw new Error(fit.because);
    const found = parts(fit);
    expectAllRelative(found.estimate, expected.firth.coef, 1e-6);
    expectAllRelative(found.standardError, Object.values(expected.firth.se), 1e-6);
    expectAllRelative(found.lower, expected.firth.profileLower, 1e-5);
    expectAllRelative(found.upper, expected.firth.profileUpper, 1e-5);
    expectAllRelative(found.p, expected.firth.profileP, 1e-5);
  });

  it.each(["efron", "breslow"] as const)(
    "finds the top of the plainly written likelihood, with ties (twin): %s",
    (sameDay) => {
      const rows = monotone.rows.map((row) => ({
        time: Math.ceil(Number(row.time) / 3),
        entry: Number(row.time) % 2 === 0 ? 0 : -1,
        status: Number(row.status),
        x: [Number(row.x), Number(row.z)],
      }));
      const value = ([a = 0, b = 0]: readonly number[]) => {
        let height = 0;
        const information = [0, 0, 0];
        const relative = (x: readonly number[]) => Math.exp(a * (x[0] ?? 0) + b * (x[1] ?? 0));
        for (const time of new Set(rows.filter(({ status }) => status === 1).map((row) => row.time))) {
          const failing = rows.filter((row) => row.status === 1 && row.time === time);
          failing.forEach(({ x }, turn) => {
            const share = sameDay === "efron" ? turn / failing.length : 0;
            const moment = (of: (x: readonly number[]) => number) => {
              const sum = (list: typeof rows) =>
                list.reduce((all, row) => all + relative(row.x) * of(row.x), 0);
              return sum(rows.filter((row) => row.time >= time && row.entry < time)) - share * sum(failing);
            };
            const s0 = moment(() => 1);
            height += Math.log(relative(x) / s0);
            const mean = [moment((one) => one[0] ?? 0) / s0, moment((one) => one[1] ?? 0) / s0];
            [
              [0, 0],
              [0, 1],
              [1, 1],
            ].forEach(([j = 0, k = 0], at) => {
              const square = moment((one) => (one[j] ?? 0) * (one[k] ?? 0)) / s0;
              information[at]! += square - (mean[j] ?? 0) * (mean[k] ?? 0);
            });
          });
        }
        const [xx = 0, xz = 0, zz = 0] = information;
        return height + 0.5 * Math.log(xx * zz - xz * xz);
      };
      const fit = penalisedCox(
        {
          exit: rows.map(({ time }) => time),
          entry: rows.map(({ entry }) => entry),
          event: rows.map(({ status }) => status),
        },
        monotone.matrix,
        { sameDay },
      );
      if (!fit.computed) throw new Error(fit.because);
      const { estimate } = parts(fit);
      expectRelative(fit.penalisedLogLikelihood, value(estimate), 1e-10);
      climb(value, 2, 1e-6).forEach((at, k) => {
        expect(Math.abs((estimate[k] ?? 0) - at)).toBeLessThan(1e-4);
      });
    },
  );

  it("does not depend on the unit of a column (identity)", () => {
    const { rows, matrix } = monotone;
    const scaled = {
      ...matrix,
      columns: matrix.columns.map(({ name, values }) => ({
        name,
        values: values.map((value) => 1e6 * value - 7e6),
      })),
    };
    const [one, other] = [penalisedCox(observed(rows), matrix), penalisedCox(observed(rows), scaled)];
    if (!one.computed || !other.computed) throw new Error("no fit");
    expectAllRelative(
      parts(other).estimate.map((value) => value * 1e6),
      parts(one).estimate,
      1e-7,
    );
    expectAllRelative(
      parts(other).upper.map((value) => value * 1e6),
      parts(one).upper,
      1e-6,
    );
  });

  it("refuses clusters, weights and the discrete likelihood, and says where there is too little", () => {
    const { rows, matrix } = monotone;
    const plain = observed(rows);
    const codes = plain.exit.map((_, at) => at);
    expect(penalisedCox({ ...plain, cluster: { codes, word: "surgeon" } }, matrix)).toMatchObject({
      code: "clusters",
    });
    const weight = { kind: "sampling", values: plain.exit } as const;
    expect(penalisedCox({ ...plain, weight }, matrix)).toMatchObject({ code: "weights" });
    expect(() => penalisedCox(plain, matrix, { sameDay: "exact" as "efron" })).toThrow(/efron or breslow/);
    expect(penalisedCox({ ...plain, event: plain.event.map(() => 0) }, matrix)).toMatchObject({
      code: "no-events",
    });
    const one = plain.event.map((_, at) => (at === 0 ? 1 : 0));
    expect(penalisedCox({ ...plain, event: one }, matrix)).toMatchObject({
      code: "fewer-events-than-parameters",
      because: expect.stringMatching(/^\D+$/),
    });
  });
});
