import { describe, expect, it } from "vitest";
import { randomStreams } from "../../src/base/random-streams.ts";
import { coxRegression } from "../../src/regression/cox-regression.ts";
import { effectOverTime } from "../../src/regression/effect-over-time.ts";
import { fineGrayRegression } from "../../src/regression/fine-gray-regression.ts";
import { logisticRegression } from "../../src/regression/logistic-regression.ts";
import { baselineHazard } from "../../src/regression/predicted-curves.ts";
import { matrixOf, present } from "./cox-examples.ts";

const stream = randomStreams(11).stream("extreme numbers");
const x = Array.from({ length: 60 }, () => 2 * stream.uniform() - 1);
const exit = x.map((value) => 1 + Math.floor(-30 * Math.log(stream.uniform()) * Math.exp(-value)));
const event = x.map(() => [0, 1, 1, 1, 2][stream.below(5)] ?? 0);
const weights = x.map(() => 0.3 + 2 * stream.uniform());
const causes = ["a", "b"];

type Fit = ReturnType<typeof coxRegression> | ReturnType<typeof fineGrayRegression>;

function numbersOf(fit: Fit | ReturnType<typeof logisticRegression>): number[] {
  const { columns, covariance } = present(fit);
  const estimates = columns.map((column) =>
    "hazardRatio" in column ? present(column.hazardRatio).logRatio : present(column.coefficient).estimate,
  );
  return [...estimates, ...covariance.flat()];
}

describe("fits with sampling weights", () => {
  // Identity: a weight says what share of a population a row stands for, so only its proportion to others counts.
  it.each([1e-12, 1e-9, 1e-4, 1e6, 1e12])("are the same when all weights are multiplied by %s", (factor) => {
    const matrix = matrixOf({ x });
    const scaled = (by: number) => ({ kind: "sampling" as const, values: weights.map((one) => one * by) });
    const fits = (by: number) => [
      coxRegression({ exit, event, causes, weight: scaled(by) }, matrix, { event: ["a"] }),
      fineGrayRegression({ exit, event, causes, weight: scaled(by) }, matrix, { cause: "a" }),
      logisticRegression({ outcome: event.map((code) => Math.min(1, code)), weight: scaled(by) }, matrix),
    ];
    const plain = fits(1).map(numbersOf);
    fits(factor).forEach((fit, at) => {
      numbersOf(fit).forEach((value, k) => {
        expect(Math.abs(value / (plain[at]?.[k] ?? Number.NaN) - 1)).toBeLessThan(1e-9);
      });
    });
  });

  it("have no likelihood to compare, since multiplying the weights would multiply the chi-square", () => {
    const weight = { kind: "sampling" as const, values: weights };
    const refused = { computed: false, code: "sampling-weights" };
    const fit = present(coxRegression({ exit, event, causes, weight }, matrixOf({ x }), { event: ["a"] }));
    expect(fit.likelihoodRatio).toMatchObject(refused);
    expect(fit.score).toMatchObject(refused);
    expect(fit.robustScore).toMatchObject({ computed: true });
    expect(fit.notes.map(({ code }) => code)).not.toContain("model-based-tests");
    const outcome = event.map((code) => Math.min(1, code));
    expect(present(logisticRegression({ outcome, weight }, matrixOf({ x }))).likelihoodRatio).toMatchObject(
      refused,
    );
  });

  it("say of a separated column only which way it runs", () => {
    const separated = outcomeColumn(event);
    const weight = { kind: "sampling" as const, values: weights.map((one) => 1e-12 * one) };
    const fit = present(
      coxRegression({ exit, event, causes, weight }, matrixOf({ separated }), { event: ["a"] }),
    );
    expect(fit.columns[0]).toMatchObject({
      hazardRatio: { code: "separation" },
      separation: {
        ratioTends: "up",
        likelihoodRatio: { code: "sampling-weights" },
        limit: { code: "sampling-weights" },
      },
    });
    const logistic = present(
      logisticRegression({ outcome: separated, weight }, matrixOf({ separated: separated.map(Number) })),
    );
    expect(logistic.columns.find(({ column }) => column === "separated")?.separation).toMatchObject({
      tends: "up",
      likelihoodRatio: { code: "sampling-weights" },
      limit: { code: "sampling-weights" },
    });
  });
});

function outcomeColumn(codes: readonly number[]): number[] {
  return codes.map((code) => (code === 1 ? 1 : 0));
}

describe("numbers too large to write", () => {
  it("leave a separated column without a limit where hazards run over first", () => {
    // Two columns on which two rows of one day differ by 10¹² and by 1: any limit lies beyond what can be written.
    const fit = present(
      coxRegression(
        { exit: [1, 1], event: [1, 0] },
        matrixOf({ large: [694068225516.4803, 1527508266780.8667], near: [1000000000.4, 999999999.5] }),
      ),
    );
    for (const { hazardRatio, separation } of fit.columns) {
      expect(hazardRatio.computed).toBe(false);
      if (separation?.limit.computed) {
        expect(Number.isFinite(separation.limit.ratio)).toBe(true);
      }
    }
  });

  it("refuse a baseline at a zero that lies 10⁹ away from everybody", () => {
    const far = x.map((value) => value - 1e9);
    const matrix = matrixOf({ far });
    const fit = present(coxRegression({ exit, event, causes }, matrix, { event: ["a"] }));
    expect(baselineHazard({ exit, event, causes }, matrix, fit)).toMatchObject({ code: "too-large" });
  });

  it("refuse a course of the ratio in units in which no limit can be written", () => {
    const matrix = matrixOf({ tiny: x.map((value) => 1e-12 * value) });
    const fit = present(coxRegression({ exit, event, causes }, matrix, { event: ["a"] }));
    expect(effectOverTime({ exit, event, causes }, matrix, fit, { column: "tiny" })).toMatchObject({
      code: "too-large",
    });
  });
});
