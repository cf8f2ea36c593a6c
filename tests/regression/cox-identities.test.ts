import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { randomStreams } from "../../src/base/random-streams.ts";
import { coxRegression } from "../../src/regression/cox-regression.ts";
import type { CoxFit } from "../../src/regression/cox-result.ts";
import type { ModelMatrix } from "../../src/regression/model-matrix.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { logRankTest } from "../../src/survival/log-rank-test.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { expectRelative } from "../reference/record.ts";
import { RUNS } from "../survival/arbitrary-rows.ts";
import { type CoxExample, fitted, heart, larynx, lung, matrixOf, present } from "./cox-examples.ts";
import { drawnExample } from "./drawn-example.ts";
import { naiveLogLikelihood, naiveMaximum } from "./naive-cox.ts";

function coefficients({ columns }: CoxFit): number[] {
  return columns.map(({ hazardRatio }) => (hazardRatio.computed ? hazardRatio.logRatio : Number.NaN));
}

function expectSameFit(one: CoxFit, other: CoxFit, relative = 1e-9): void {
  expectRelative(one.logLikelihood, other.logLikelihood, relative);
  coefficients(one).forEach((value, at) => {
    expect(Math.abs(value - (coefficients(other)[at] ?? Number.NaN))).toBeLessThanOrEqual(
      relative * Math.max(1, Math.abs(value)),
    );
  });
  one.covariance.forEach((line, j) => {
    line.forEach((value, k) => {
      const size = Math.sqrt((one.covariance[j]?.[j] ?? 0) * (one.covariance[k]?.[k] ?? 0));
      expect(Math.abs(value - (other.covariance[j]?.[k] ?? Number.NaN))).toBeLessThanOrEqual(1e-8 * size);
    });
  });
}

describe("coxRegression() beside the plainly written likelihood (twin, seeds 1 to 6)", () => {
  for (const seed of [1, 2, 3, 4, 5, 6]) {
    for (const sameDay of ["efron", "breslow", "exact"] as const) {
      it(`has its value, slope and top: seed ${seed}, ${sameDay}`, () => {
        const example = drawnExample(seed, { weighted: sameDay !== "exact" });
        const fit = fitted(example, { sameDay });
        const top = naiveMaximum(example, sameDay);
        expectRelative(fit.nullLogLikelihood, naiveLogLikelihood(example, sameDay, [0, 0]), 1e-11);
        expectRelative(fit.logLikelihood, top.value, 1e-10);
        coefficients(fit).forEach((value, at) => {
          expect(Math.abs(value - (top.at[at] ?? Number.NaN))).toBeLessThan(2e-6);
        });
      });
    }
  }
});

describe("coxRegression(), identities", () => {
  it("has the log-rank statistic as its score test, two groups without ties (identity)", () => {
    const stream = randomStreams(7).stream("untied");
    const exit = Array.from({ length: 40 }, (_, row) => 3 * row + 1 + stream.below(3));
    const event = exit.map(() => (stream.uniform() < 0.6 ? 1 : 0));
    const group = exit.map(() => stream.below(2));
    const entry = exit.map((tick) => (stream.uniform() < 0.3 ? Math.floor(tick / 2) : -1));
    const columns: ObservationColumns = { exit, event, entry, group: { codes: group, labels: ["a", "b"] } };
    const test = logRankTest(countsByTime(columns));
    if (!test.computed) throw new Error(test.because);
    expectRelative(
      present(fitted({ columns, matrix: matrixOf({ x: group }) }).score).chiSquare,
      test.chiSquare,
      1e-11,
    );
  });

  it("has the log-rank statistic as its score test under the discrete likelihood, with ties (identity)", () => {
    const { columns, matrix } = drawnExample(8, {});
    const group = [...(matrix.columns[0]?.values ?? [])].map((value) => (value > 0 ? 1 : 0));
    const grouped = { ...columns, group: { codes: group, labels: ["a", "b"] } };
    const test = logRankTest(countsByTime(grouped));
    if (!test.computed) throw new Error(test.because);
    const fit = fitted({ columns: grouped, matrix: matrixOf({ x: group }) }, { sameDay: "exact" });
    expectRelative(present(fit.score).chiSquare, test.chiSquare, 1e-10);
  });

  it("repeats rows by copies under breslow: fit and robust variance (identity)", () => {
    const { columns, matrix } = drawnExample(9, {});
    const copies = Array.from(columns.exit, (_, row) => row % 3);
    const weighted = { ...columns, weight: { kind: "copies", values: copies } } as const;
    const list = copies.flatMap((count, row) => new Array<number>(count).fill(row));
    const repeated = takeRows({ columns, matrix }, list);
    for (const variance of ["model", "robust"] as const) {
      const fit = fitted({ columns: weighted, matrix }, { sameDay: "breslow", variance });
      expectSameFit(fit, fitted(repeated, { sameDay: "breslow", variance }));
      expect(fit.events).toBe(fitted(repeated).events);
    }
  });

  it("does not change when sampling weights are multiplied (identity)", () => {
    const { columns, matrix } = drawnExample(10, { weighted: true });
    const tripled = {
      ...columns,
      weight: { kind: "sampling", values: Array.from(columns.weight?.values ?? [], (one) => 3 * one) },
    } as const;
    const [one, three] = [fitted({ columns, matrix }), fitted({ columns: tripled, matrix })];
    coefficients(one).forEach((value, at) => {
      expectRelative(coefficients(three)[at], value, 1e-10);
    });
    expectRelative(three.covariance[0]?.[0], one.covariance[0]?.[0] ?? 0, 1e-9);
  });

  it("is the sum of the likelihoods of its strata at its own coefficients (identity)", () => {
    const example = lung({ stratified: true });
    const fit = fitted(example);
    const codes = example.columns.stratum?.codes ?? [];
    const parts = [0, 1].map((own) => {
      const list = Array.from(codes).flatMap((code, row) => (code === own ? [row] : []));
      const part = takeRows(example, list);
      const { stratum: _, ...rest } = part.columns;
      return naiveLogLikelihood({ columns: rest, matrix: part.matrix }, "efron", coefficients(fit));
    });
    expectRelative(fit.logLikelihood, (parts[0] ?? 0) + (parts[1] ?? 0), 1e-11);
  });

  it("fits the same from cut rows, and clusters pieces by case in a robust variance (identity)", () => {
    const whole = lung();
    const { exit, event } = whole.columns;
    const pieces = Array.from(exit).flatMap((end, row) => {
      const cuts = [-1, 150, 300].filter((cut) => cut < end);
      return cuts.map((from, at) => ({
        row,
        from,
        to: cuts[at + 1] ?? end,
        event: at + 1 < cuts.length ? 0 : (event[row] ?? 0),
      }));
    });
    const { matrix } = takeRows(
      whole,
      pieces.map(({ row }) => row),
    );
    const columns = {
      entry: pieces.map(({ from }) => from),
      exit: pieces.map(({ to }) => to),
      event: pieces.map((piece) => piece.event),
      caseId: pieces.map(({ row }) => row),
    };
    for (const variance of ["model", "robust"] as const) {
      expectSameFit(fitted({ columns, matrix }, { variance }), fitted(whole, { variance }));
    }
  });

  it("changes only its words with another reference level (identity)", () => {
    const { columns, matrix } = larynx();
    const [two, three, four, age] = matrix.columns.map(({ values }) => values);
    if (two === undefined || three === undefined || four === undefined || age === undefined)
      throw new Error();
    const one = two.map((value, row) => 1 - value - (three[row] ?? 0) - (four[row] ?? 0));
    const other = {
      ...matrix,
      columns: [one, three, four, age].map((values, at) => ({ name: `column ${at}`, values })),
    };
    const [fit, moved] = [fitted({ columns, matrix }), fitted({ columns, matrix: other })];
    expectRelative(moved.logLikelihood, fit.logLikelihood, 1e-12);
    const [first, second] = [coefficients(fit), coefficients(moved)];
    expectRelative(second[0], -(first[0] ?? 0), 1e-9);
    expectRelative(second[1], (first[1] ?? 0) - (first[0] ?? 0), 1e-9);
    expectRelative(
      present(moved.terms[0]?.wald ?? moved.wald).chiSquare,
      present(fit.terms[0]?.wald ?? fit.wald).chiSquare,
      1e-9,
    );
  });

  it("does not depend on the order of rows, nor on unit and origin of a column (properties, seeded)", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1000 }),
        fc.array(fc.integer(), { minLength: 40, maxLength: 40 }),
        fc.double({ min: 0.05, max: 1e6, noNaN: true }),
        fc.double({ min: -1e3, max: 1e3, noNaN: true }),
        (seed, keys, unit, origin) => {
          const example = drawnExample(seed, { weighted: true, clustered: true });
          const answer = coxRegression(example.columns, example.matrix);
          if (!answer.computed || answer.columns.some(({ hazardRatio }) => !hazardRatio.computed)) return;
          const order = keys.map((key, row) => ({ key, row })).sort((a, b) => a.key - b.key || a.row - b.row);
          expectSameFit(
            fitted(
              takeRows(
                example,
                order.map(({ row }) => row),
              ),
            ),
            answer,
            1e-8,
          );
          const [first, second] = example.matrix.columns;
          if (first === undefined || second === undefined) return;
          const scaled = { ...first, values: first.values.map((value) => value * unit + origin * unit) };
          const moved = fitted({ ...example, matrix: { ...example.matrix, columns: [scaled, second] } });
          expectRelative(moved.logLikelihood, answer.logLikelihood, 1e-8);
          const [was = 0, is = 0] = [answer, moved].map((fit) => coefficients(fit)[0]);
          expect(Math.abs(is * unit - was)).toBeLessThanOrEqual(1e-6 * Math.max(1, Math.abs(was)));
        },
      ),
      { ...RUNS, numRuns: 40 },
    );
  });

  it("takes patient + surgeon − both for two ways, and one way where every row is its own second cluster (identities)", () => {
    const example = heart(["age", "surgery", "transplant"], { clustered: true });
    const rows = example.columns.exit.length;
    const own = fitted(example, {
      secondCluster: { codes: Array.from({ length: rows }, (_, row) => row), word: "row" },
    });
    // Rows lie within persons: persons + rows − rows.
    expectSameFit(own, fitted(example));
    const other = { codes: Array.from({ length: rows }, (_, row) => row % 20), word: "ward" };
    const two = fitted(example, { secondCluster: other });
    const persons = Array.from(example.columns.cluster?.codes ?? []);
    const over = (codes: readonly number[]) =>
      fitted({ ...example, columns: { ...example.columns, cluster: { codes, word: "x" } } }).covariance;
    const both = persons.map((person, row) => person * 20 + (row % 20));
    const expected =
      (over(persons)[0]?.[0] ?? 0) + (over(other.codes)[0]?.[0] ?? 0) - (over(both)[0]?.[0] ?? 0);
    expectRelative(two.covariance[0]?.[0], expected, 1e-9);
    expect(two.settings).toMatchObject({
      clusteredBy: ["person", "ward"],
      clusters: [103, 20],
      degreesOfFreedom: 19,
    });
    const few = two.notes.find(({ code }) => code === "few-clusters");
    expect(few?.text).toContain("20 clusters");
    expect(few?.plain).toMatch(/^few clusters \(person, ward\)\D+$/);
  });
});

/** Rows of an example in the order given, a row as often as it is named. */
function takeRows({ columns, matrix }: CoxExample, list: readonly number[]): CoxExample {
  const at = (values: ArrayLike<number>) => list.map((row) => values[row] ?? 0);
  const { weight, cluster, stratum, entry } = columns;
  const taken: ObservationColumns = {
    exit: at(columns.exit),
    event: at(columns.event),
    ...(entry && { entry: at(entry) }),
    ...(weight && { weight: { kind: weight.kind, values: at(weight.values) } }),
    ...(cluster && { cluster: { word: cluster.word, codes: at(cluster.codes) } }),
    ...(stratum && { stratum: { labels: stratum.labels, codes: at(stratum.codes) } }),
  };
  const moved: ModelMatrix = {
    ...matrix,
    rows: Int32Array.from(list.keys()),
    columns: matrix.columns.map(({ name, values }) => ({ name, values: Float64Array.from(at(values)) })),
  };
  return { columns: taken, matrix: moved };
}
