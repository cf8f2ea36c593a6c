import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { randomStreams } from "../../src/base/random-streams.ts";
import { coxRegression } from "../../src/regression/cox-regression.ts";
import { type FineGrayOptions, fineGrayRegression } from "../../src/regression/fine-gray-regression.ts";
import { modelMatrix } from "../../src/regression/model-terms.ts";
import { numberTerm } from "../../src/regression/term-number.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { expectAllRelative, expectRelative } from "../reference/record.ts";
import { climb } from "./climb.ts";
import { type NaiveRow, naiveLogLikelihood } from "./naive-fine-gray.ts";
import { numbers } from "./some-table.ts";

const CAUSES = ["revision", "death"];
const CAUSE = { cause: "revision" };

/** Invented rows with two causes, censoring and, where asked for, delayed entry. */
function invented(
  seed: number,
  count: number,
  { late = false, ticks = 60 }: { late?: boolean; strata?: boolean; ticks?: number } = {},
): NaiveRow[] {
  const stream = randomStreams(seed).stream("fine-gray rows");
  return Array.from({ length: count }, () => {
    const x = [stream.uniform() * 2 - 1, stream.below(2)];
    const wait = (rate: number) => -Math.log(1 - stream.uniform()) / rate;
    const one = wait(0.02 * Math.exp(0.8 * (x[0] ?? 0)));
    const two = wait(0.015 * Math.exp(0.5 * (x[1] ?? 0)));
    const end = wait(0.015) + 1;
    const exit = Math.min(ticks, Math.ceil(Math.min(one, two, end)));
    const event = exit === ticks ? 0 : end <= Math.min(one, two) ? 0 : one <= two ? 1 : 2;
    const entry = late && stream.uniform() < 0.5 ? Math.min(exit - 1, stream.below(8)) : -1;
    return { exit, event, entry, stratum: stream.below(2), x };
  });
}

function inputs(rows: readonly NaiveRow[], { strata = false, late = false } = {}) {
  const observations: ObservationColumns = {
    exit: rows.map(({ exit }) => exit),
    event: rows.map(({ event }) => event),
    causes: CAUSES,
    ...(late && { entry: rows.map(({ entry }) => entry) }),
    ...(strata && { stratum: { codes: rows.map(({ stratum }) => stratum), labels: ["a", "b"] } }),
  };
  const table = ["x", "z"].map((field, at) =>
    numbers(
      field,
      rows.map(({ x }) => x[at] ?? 0),
    ),
  );
  return { observations, matrix: modelMatrix(table, [numberTerm("x"), numberTerm("z")]) };
}

function fitted({ observations, matrix }: ReturnType<typeof inputs>, options: Partial<FineGrayOptions> = {}) {
  const answer = fineGrayRegression(observations, matrix, { ...CAUSE, ...options });
  if (!answer.computed) throw new Error(answer.because);
  return answer;
}

type Fit = ReturnType<typeof fitted>;
const estimates = ({ columns }: Fit) =>
  columns.map(({ coefficient }) => (coefficient.computed ? coefficient.estimate : Number.NaN));

const together = (rows: readonly NaiveRow[]) => rows.map((row) => ({ ...row, stratum: 0 }));

describe("fineGrayRegression()", () => {
  it.each([
    ["plain rows", {}],
    ["censoring curves by stratum", { strata: true }],
    ["delayed entry", { late: true }],
    ["delayed entry and strata", { late: true, strata: true }],
  ])("finds the top of the plainly written likelihood (twin): %s", (_, form) => {
    const rows = invented(11, 60, form);
    const fit = fitted(inputs(rows, form));
    const naive = "strata" in form ? rows : together(rows);
    const value = (beta: readonly number[]) => naiveLogLikelihood(naive, beta);
    expectRelative(fit.logPseudoLikelihood, value(estimates(fit)), 1e-10);
    const top = climb(value, 2, 1e-4);
    estimates(fit).forEach((estimate, at) => {
      expect(Math.abs(estimate - (top[at] ?? 0))).toBeLessThan(1e-3);
    });
  });

  it.each([
    ["plain rows", {}],
    ["censoring curves by stratum", { strata: true }],
    ["delayed entry and strata", { late: true, strata: true }],
  ])("has the variance of what a slightly heavier row does to the estimate (twin): %s", (_, form) => {
    const rows = invented(5, 100, { ...form, ticks: 4000 });
    const input = inputs(
      rows.map((row) => ({ ...row, exit: row.exit + 10 })),
      form,
    );
    const weighted = (values: readonly number[]) =>
      estimates(
        fitted({ ...input, observations: { ...input.observations, weight: { kind: "sampling", values } } }),
      );
    const plain = weighted(rows.map(() => 1));
    const squares = [0, 0];
    rows.forEach((_row, at) => {
      const heavier = weighted(rows.map((__, other) => (other === at ? 1 + 1e-5 : 1)));
      heavier.forEach((estimate, k) => {
        const pull = (estimate - (plain[k] ?? 0)) / 1e-5;
        squares[k]! += pull * pull;
      });
    });
    const { covariance } = fitted(input);
    // The published variance takes a step of the curve as 1/n where its derivative has 1/(n − 1).
    squares.forEach((square, k) => {
      expectRelative(covariance[k]?.[k], square, 0.01);
    });
  });

  it.each([{}, { late: true }])("is the Breslow Cox fit where nothing competes (identity): %o", (form) => {
    const rows = invented(3, 200, form).map((row) => ({ ...row, event: Math.min(row.event, 1) }));
    const { observations, matrix } = inputs(rows, form);
    const fit = fitted({ observations, matrix });
    const cox = coxRegression(observations, matrix, {
      event: ["revision"],
      sameDay: "breslow",
      variance: "robust",
    });
    if (!cox.computed) throw new Error(cox.because);
    expectAllRelative(
      estimates(fit),
      cox.columns.map(({ hazardRatio }) => (hazardRatio.computed ? hazardRatio.logRatio : null)),
      1e-9,
    );
    fit.covariance.forEach((line, at) => {
      expectAllRelative([...line], [...(cox.covariance[at] ?? [])], 1e-8);
    });
    expectRelative(fit.logPseudoLikelihood, cox.logLikelihood, 1e-12);
  });

  it("is the Cox fit that never lets those with a competing event go, where nobody is censored (identity)", () => {
    const rows = invented(8, 150).map((row) => ({ ...row, event: row.event === 0 ? 2 : row.event }));
    const { observations, matrix } = inputs(rows);
    const forever = {
      exit: rows.map(({ exit, event }) => (event === 2 ? 1000 : exit)),
      event: rows.map(({ event }) => (event === 2 ? 0 : event)),
    };
    const cox = coxRegression(forever, matrix, { sameDay: "breslow", variance: "robust" });
    if (!cox.computed) throw new Error(cox.because);
    const fit = fitted({ observations, matrix });
    fit.covariance.forEach((line, at) => {
      expectAllRelative([...line], [...(cox.covariance[at] ?? [])], 1e-8);
    });
    expectRelative(fit.logPseudoLikelihood, cox.logLikelihood, 1e-12);
  });

  it("does not depend on the order of rows or the units of columns, and takes copies as rows (identities)", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 40 }), fc.boolean(), (seed, late) => {
        const rows = invented(seed, 120, { late });
        const plain = fitted(inputs(rows, { late }));
        const order = [...rows.keys()].sort((a, b) => Math.sin(a * 31 + seed) - Math.sin(b * 31 + seed));
        const moved = order
          .map((at) => rows[at]!)
          .map((row) => ({ ...row, x: [(row.x[0] ?? 0) * 1e6 + 5, row.x[1] ?? 0] }));
        const other = fitted(inputs(moved, { late }));
        expectRelative((estimates(other)[0] ?? 0) * 1e6, estimates(plain)[0] ?? 0, 1e-7);
        expectRelative(other.covariance[1]?.[1], plain.covariance[1]?.[1] ?? 0, 1e-7);
        const values = rows.map((_, at) => at % 3);
        const input = inputs(rows, { late });
        const copies = fitted({
          ...input,
          observations: { ...input.observations, weight: { kind: "copies", values } },
        });
        const repeated = fitted(
          inputs(
            rows.flatMap((row, at) => new Array<NaiveRow>(at % 3).fill(row)),
            { late },
          ),
        );
        copies.covariance.forEach((line, at) => {
          expectAllRelative([...line], [...(repeated.covariance[at] ?? [])], 1e-7);
        });
      }),
      { numRuns: 15 },
    );
  });

  it("keeps intervals where sampling weights are multiplied, and clusters of one row are rows (identities)", () => {
    const input = inputs(invented(9, 150));
    const count = input.observations.exit.length;
    const weighted = (times: number) =>
      fitted({
        ...input,
        observations: {
          ...input.observations,
          weight: {
            kind: "sampling",
            values: Array.from({ length: count }, (_, at) => times * (1 + (at % 4))),
          },
        },
      });
    const [once, more] = [weighted(1), weighted(250)];
    once.covariance.forEach((line, at) => {
      expectAllRelative([...(more.covariance[at] ?? [])], [...line], 1e-9);
    });
    const codes = Array.from({ length: count }, (_, at) => at);
    const clustered = fitted({
      ...input,
      observations: { ...input.observations, cluster: { codes, word: "row" } },
    });
    fitted(input).covariance.forEach((line, at) => {
      expectAllRelative([...(clustered.covariance[at] ?? [])], [...line], 1e-10);
    });
  });

  it("names what it is for, what it rests on, and t over few clusters", () => {
    const input = inputs(invented(2, 150));
    const codes = input.matrix.columns[0]!.values.map((_, at) => at % 6);
    const fit = fitted({
      ...input,
      observations: { ...input.observations, cluster: { codes, word: "surgeon" } },
    });
    expect(fit.purpose).toContain("prediction of crude risk");
    expect(fit.settings).toMatchObject({
      variance: "clustered",
      clusters: { word: "surgeon", count: 6 },
      degreesOfFreedom: 5,
      censoringWeights: "estimated",
      sameDay: "breslow",
    });
    expect(fit.terms[0]?.likelihoodRatio).toMatchObject({ computed: false, code: "no-likelihood" });
  });

  it("names a column along which the likelihood rises for ever, and fits the other beside it", () => {
    const rows = invented(4, 120).map((row) => ({
      ...row,
      event: row.event === 1 && row.x[1] === 0 ? 0 : row.event,
    }));
    const fit = fitted(inputs(rows));
    expect(fit.columns[1]).toMatchObject({
      coefficient: { computed: false, code: "separation" },
      separation: { tends: "up" },
    });
    expect(fit.columns[0]?.coefficient.computed).toBe(true);
    expect(fit.estimated).toEqual(["x"]);
  });
});

describe("fineGrayRegression() at the edges", () => {
  const answer = (exit: number[], event: number[], x: number[], more: Partial<ObservationColumns> = {}) =>
    fineGrayRegression(
      { exit, event, causes: CAUSES, ...more },
      modelMatrix([numbers("x", x)], [numberTerm("x")]),
      CAUSE,
    );

  it.each([
    ["nobody", [], [], []],
    ["no events", [1, 2, 3], [0, 2, 0], [1, 2, 3]],
    ["one case, censored", [1], [0], [1]],
  ])("says why there is no answer: %s", (_, exit, event, x) => {
    expect(answer(exit, event, x)).toMatchObject({ computed: false, code: "no-events" });
  });

  it("fits all events, all tied, an event on day 0 and a last case with an event", () => {
    const x = [1, 2, 3, 1, 2, 5];
    for (const [exit, event] of [
      [
        [1, 2, 3, 4, 5, 6],
        [1, 1, 1, 1, 1, 1],
      ],
      [
        [3, 3, 3, 3, 3, 3],
        [1, 1, 0, 2, 1, 0],
      ],
      [
        [0, 2, 3, 4, 5, 6],
        [1, 1, 2, 0, 1, 0],
      ],
      [
        [1, 2, 3, 4, 5, 6],
        [1, 2, 1, 0, 2, 1],
      ],
    ] as const) {
      const fit = answer([...exit], [...event], x);
      expect(fit.computed).toBe(true);
      expect(JSON.stringify(fit)).not.toMatch(/null,null|NaN|Infinity/);
    }
  });

  it("says that one event cannot give two coefficients, and that one case shows nothing", () => {
    const two = [numbers("x", [1, 2, 3]), numbers("y", [2, 1, 5])];
    const matrix = modelMatrix(two, [numberTerm("x"), numberTerm("y")]);
    expect(
      fineGrayRegression({ exit: [1, 2, 3], event: [1, 0, 0] }, matrix, { cause: "event" }),
    ).toMatchObject({
      code: "fewer-events-than-parameters",
      because: expect.stringMatching(/^\D+$/),
    });
    expect(answer([1], [1], [4])).toMatchObject({
      computed: true,
      columns: [{ coefficient: { computed: false, code: "constant" } }],
    });
  });

  it("refuses weights that have no estimate, since the risk set empties before late entries", () => {
    const late = { entry: [-1, -1, -1, 6, 6, 6] };
    expect(answer([2, 3, 4, 8, 9, 10], [1, 2, 0, 1, 1, 0], [1, 2, 3, 1, 2, 5], late)).toMatchObject({
      computed: false,
      code: "risk-set-emptied",
    });
    // Nobody had a competing event before the gap, so nobody's weight crosses it.
    expect(answer([2, 3, 4, 8, 9, 10], [1, 1, 0, 1, 2, 0], [1, 2, 3, 1, 2, 5], late).computed).toBe(true);
  });

  it("refuses one cluster, and cases cut in rows", () => {
    const one = { cluster: { codes: [1, 1, 1, 1], word: "surgeon" } };
    expect(answer([1, 2, 3, 4], [1, 2, 1, 0], [1, 2, 3, 1], one)).toMatchObject({ code: "one-cluster" });
    expect(() =>
      answer([1, 2, 3, 4], [1, 2, 1, 0], [1, 2, 3, 1], { caseId: [1, 2, 3, 4], entry: [-1, -1, -1, -1] }),
    ).toThrow(/one row a case/);
  });

  it.each([
    ["a cause that is not there", { cause: "infection" }, /no cause is named "infection"/],
    ["a level in per cent", { ...CAUSE, level: 95 }, /write 0.95/],
    ["a variance of the model", { ...CAUSE, variance: "model" }, /variance must be robust or clustered/],
    ["clusters that are not there", { ...CAUSE, variance: "clustered" }, /needs clusters/],
  ])("refuses %s", (_, options, words) => {
    const { observations, matrix } = inputs(invented(1, 30));
    expect(() => fineGrayRegression(observations, matrix, options as FineGrayOptions)).toThrow(words);
  });
});
