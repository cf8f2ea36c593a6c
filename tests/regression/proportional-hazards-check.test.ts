import { describe, expect, it } from "vitest";
import { coxResiduals } from "../../src/regression/cox-residuals.ts";
import { effectOverTime } from "../../src/regression/effect-over-time.ts";
import type { TimeScale } from "../../src/regression/event-time-scale.ts";
import { proportionalHazardsCheck } from "../../src/regression/proportional-hazards-check.ts";
import { expectAllRelative, expectRelative, referenceRecord } from "../reference/record.ts";
import { type CoxExample, fitted, heart, lung, present } from "./cox-examples.ts";

const NAMES: Readonly<Record<string, TimeScale>> = {
  km: "survival",
  identity: "time",
  log: "logTime",
  rank: "rank",
};
const MAIN = ["age", "year", "surgery", "transplant"];

function expectCheck(
  { columns, matrix }: CoxExample,
  name: string,
  theirs: Readonly<Record<string, number[]>>,
) {
  const fit = fitted({ columns, matrix });
  const { terms, all } = present(
    proportionalHazardsCheck(columns, matrix, fit, { scale: NAMES[name] ?? "survival" }),
  );
  const tests = [...terms.map(({ test }) => present(test)), present(all)];
  expectAllRelative(
    tests.map(({ chiSquare }) => chiSquare),
    theirs.chisq ?? [],
    1e-7,
  );
  expect(tests.map(({ degreesOfFreedom }) => degreesOfFreedom)).toEqual(theirs.df);
  expectAllRelative(
    tests.map(({ p }) => p),
    theirs.p ?? [],
    1e-7,
  );
}

describe("proportionalHazardsCheck()", () => {
  it.each(["km", "identity", "log", "rank"])("meets cox.lung_zph on the scale %s (R survival)", (name) => {
    expectCheck(lung(), name, referenceRecord("05_cox", "cox.lung_zph").expected.scoreTest[name]);
  });

  it.each(["km", "identity"])("meets cox.heart_counting on the scale %s (R survival)", (name) => {
    expectCheck(heart(MAIN), name, referenceRecord("05_cox", "cox.heart_counting").expected.zph[name]);
  });

  it("refuses a logarithm of tick 0", () => {
    const { columns, matrix } = lung();
    const early = { ...columns, exit: Array.from(columns.exit, (tick, row) => (row === 0 ? 0 : tick)) };
    const fit = fitted({ columns: early, matrix });
    expect(proportionalHazardsCheck(early, matrix, fit, { scale: "logTime" })).toMatchObject({
      code: "log-of-zero",
    });
  });
});

describe("effectOverTime()", () => {
  it("is the average of all residuals with their own spread where the window is wide and the effect constant (identity)", () => {
    const { columns, matrix } = lung();
    const fit = fitted({ columns, matrix });
    const { effect, average } = present(effectOverTime(columns, matrix, fit, { column: "sex", window: 1 }));
    const residuals = present(coxResiduals(columns, matrix, fit));
    const own = residuals.scaledSchoenfeld[1] ?? [];
    // Schoenfeld residuals add up to 0, so the scaled ones have the log ratio as their mean.
    expectRelative(own.reduce((sum, value) => sum + value, 0) / own.length, Math.log(average), 1e-9);
    expect(effect.length).toBeGreaterThan(20);
    for (const { lower, ratio, upper } of effect) expect(lower < ratio && ratio < upper).toBe(true);
    const ticks = effect.map(({ tick }) => tick);
    expect(ticks).toEqual([...ticks].sort((a, b) => a - b));
  });

  it("follows a straight line exactly (closed form: a local line through points on a line)", () => {
    const { columns, matrix } = lung();
    const fit = fitted({ columns, matrix });
    const narrow = present(effectOverTime(columns, matrix, fit, { column: "age", window: 0.3 }));
    const wide = present(effectOverTime(columns, matrix, fit, { column: "age", window: 1 }));
    const width = ({ effect }: typeof narrow) =>
      effect.reduce((sum, { upper, lower }) => sum + Math.log(upper / lower), 0) / effect.length;
    expect(width(narrow)).toBeGreaterThan(width(wide));
  });
});
