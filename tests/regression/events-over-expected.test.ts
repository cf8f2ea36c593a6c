import { describe, expect, it } from "vitest";
import { randomStreams } from "../../src/base/random-streams.ts";
import { coxResiduals } from "../../src/regression/cox-residuals.ts";
import { eventsOverExpected } from "../../src/regression/events-over-expected.ts";
import { largerModelTest } from "../../src/regression/larger-model-test.ts";
import { type CoxExample, fitted, lung, matrixOf, present } from "./cox-examples.ts";
import { drawnExample } from "./drawn-example.ts";

const valuesOf = ({ matrix }: CoxExample, name: string) =>
  matrix.columns.find((column) => column.name === name)?.values ?? new Float64Array();

/** The same sums by plain loops over every row. */
function naively(example: CoxExample, values: ArrayLike<number>, at: number, window: number): number {
  const { columns, matrix } = example;
  const { rows, eventRows, martingale } = present(coxResiduals(columns, matrix, fitted(example)));
  const distances = eventRows.map((row) => Math.abs((values[row] ?? 0) - at)).sort((a, b) => a - b);
  const furthest = (distances[Math.max(2, Math.ceil(window * eventRows.length)) - 1] ?? 0) * (1 + 1e-9);
  let [seen, expected] = [0, 0];
  rows.forEach((row, place) => {
    const far = Math.abs((values[row] ?? 0) - at) / furthest;
    const near = far >= 1 ? 0 : (1 - far * far * far) * (1 - far * far * far) * (1 - far * far * far);
    const event = eventRows.includes(row) ? 1 : 0;
    seen += near * event;
    expected += near * (event - (martingale[place] ?? 0));
  });
  return seen / expected;
}

describe("eventsOverExpected()", () => {
  it("is the ratio of two weighted sums (naive twin), values ascending and limits around it", () => {
    for (const seed of [1, 2, 3]) {
      const example = drawnExample(seed, {});
      const values = valuesOf(example, "z");
      const { columns, matrix } = example;
      const { course } = present(
        eventsOverExpected(columns, matrix, fitted(example), { values, window: 0.5, points: 9 }),
      );
      expect(course.length).toBeGreaterThan(5);
      course.forEach(({ value, ratio, lower, upper }, at) => {
        expect(ratio, `seed ${seed}`).toBeCloseTo(naively(example, values, value, 0.5), 9);
        expect(lower < ratio && ratio < upper).toBe(true);
        // Symmetric on the log scale.
        expect(lower * upper).toBeCloseTo(ratio * ratio, 9);
        if (at > 0) expect(value).toBeGreaterThan(course[at - 1]?.value ?? Number.NEGATIVE_INFINITY);
      });
    }
  });

  it("counts copies as the rows they stand for (identity)", () => {
    const { columns, matrix } = drawnExample(4, {});
    const plain = { exit: [...(columns.exit as number[])], event: [...(columns.event as number[])] };
    const z = [...valuesOf({ columns, matrix }, "z")];
    const copies = z.map((_, row) => 1 + 4 * (row % 2));
    const double = (values: readonly number[]) =>
      values.flatMap((value, row) => Array<number>(copies[row] ?? 0).fill(value));
    const once = {
      columns: { ...plain, weight: { kind: "copies" as const, values: copies } },
      matrix: matrixOf({ z }),
    };
    const twice = {
      columns: { exit: double(plain.exit), event: double(plain.event) },
      matrix: matrixOf({ z: double(z) }),
    };
    const [one, two] = [once, twice].map((example) =>
      present(
        eventsOverExpected(example.columns, example.matrix, fitted(example, { sameDay: "breslow" }), {
          values: valuesOf(example, "z"),
          window: 0.4,
          points: 7,
        }),
      ),
    );
    expect(one?.events).toBe(two?.events);
    expect(one?.course.map(({ value }) => value)).toEqual(two?.course.map(({ value }) => value));
    one?.course.forEach(({ ratio, lower }, at) => {
      expect(ratio).toBeCloseTo(two?.course[at]?.ratio ?? 0, 9);
      expect(lower).toBeCloseTo(two?.course[at]?.lower ?? 0, 9);
    });
  });

  it("bends where a straight line stands for a U that was planted, and the test of the larger model sees it", () => {
    const stream = randomStreams(11).stream("planted U");
    const x = Array.from({ length: 1500 }, () => 4 * stream.uniform() - 2);
    const exit = x.map(
      (one) => 1 + Math.floor(-Math.log(1 - stream.uniform()) / (0.002 * Math.exp(0.7 * one * one))),
    );
    const columns = {
      exit: exit.map((tick) => Math.min(tick, 400)),
      event: exit.map((tick) => (tick <= 400 ? 1 : 0)),
    };
    const straight = { columns, matrix: matrixOf({ x }) };
    const bent = { columns, matrix: matrixOf({ x, "x squared": x.map((one) => one * one) }) };
    const course = (example: CoxExample) =>
      present(
        eventsOverExpected(example.columns, example.matrix, fitted(example), { values: x, window: 0.3 }),
      ).course.map(({ ratio }) => ratio);
    const middle = course(straight).at(12) ?? 1;
    expect(course(straight)[0]).toBeGreaterThan(1.2);
    expect(course(straight).at(-1)).toBeGreaterThan(1.2);
    expect(Math.min(middle, ...course(straight))).toBeLessThan(0.75);
    for (const ratio of course(bent)) expect(Math.abs(ratio - 1)).toBeLessThan(0.25);
    expect(largerModelTest(fitted(straight), fitted(bent)).p).toBeLessThan(1e-6);
  });

  it("has no answer from fewer than ten events, and refuses what it cannot use", () => {
    const { columns, matrix } = {
      columns: { exit: [1, 2, 3, 4], event: [1, 0, 1, 1] },
      matrix: matrixOf({ x: [2, 1, 3, 2] }),
    };
    const fit = fitted({ columns, matrix });
    const values = [2, 1, 3, 2];
    expect(eventsOverExpected(columns, matrix, fit, { values })).toMatchObject({
      computed: false,
      code: "too-few-events",
    });
    expect(() => eventsOverExpected(columns, matrix, fit, { values, window: 0 })).toThrow(/window/);
    expect(() => eventsOverExpected(columns, matrix, fit, { values, points: 1 })).toThrow(/points/);
    expect(() => eventsOverExpected(columns, matrix, fit, { values, level: 95 })).toThrow(/level/);
    const example = drawnExample(1, {});
    expect(() =>
      eventsOverExpected(example.columns, example.matrix, fitted(example), { values: [Number.NaN] }),
    ).toThrow(/finite value/);
  });
});

describe("largerModelTest()", () => {
  it("is the difference of the two likelihood ratios against no model (identity)", () => {
    const larger = lung();
    const [first] = larger.matrix.columns;
    const smaller = {
      columns: larger.columns,
      matrix: matrixOf({ [first?.name ?? ""]: [...(first?.values ?? [])] }),
    };
    const [small, large] = [fitted(smaller), fitted(larger)];
    const test = largerModelTest(small, large);
    const [less, more] = [present(small.likelihoodRatio), present(large.likelihoodRatio)];
    expect(test.chiSquare).toBeCloseTo(more.chiSquare - less.chiSquare, 9);
    expect(test.degreesOfFreedom).toBe(large.estimated.length - 1);
    expect(() => largerModelTest(large, small)).toThrow(/more coefficients/);
    const sampled = { ...large, settings: { ...large.settings, weights: "sampling" as const } };
    expect(() => largerModelTest(small, sampled)).toThrow(/no likelihood/);
    expect(() => largerModelTest(fitted(drawnExample(1, {})), large)).toThrow(/same rows/);
  });
});
