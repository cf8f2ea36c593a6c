import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import type { CoxOptions } from "../../src/regression/cox-options.ts";
import type { CoxFit } from "../../src/regression/cox-result.ts";
import type { ModelMatrix } from "../../src/regression/model-matrix.ts";
import { predictedCurves } from "../../src/regression/predicted-curves.ts";
import { standardisedCurves } from "../../src/regression/standardised-curves.ts";
import { expectRelative } from "../reference/record.ts";
import { type CoxExample, fitted, lung, present } from "./cox-examples.ts";
import { drawnExample } from "./drawn-example.ts";
import { naiveCorrected } from "./naive-few-clusters.ts";

const TICK = 6;
const AT = { x: 1, z: 0.4 };

/** The matrix with one column the same for everybody. */
function withValue(matrix: ModelMatrix, name: string, value: number): ModelMatrix {
  const columns = matrix.columns.map((column) =>
    column.name === name ? { ...column, values: column.values.map(() => value) } : column,
  );
  return { ...matrix, columns };
}

function example(seed: number, weighted: boolean): CoxExample {
  const { columns, matrix } = drawnExample(seed, { weighted, clustered: true });
  return { columns: { ...columns, timeUnit: TIME_UNITS.year }, matrix };
}

/** Predicted hazard in the first stratum, standardised risks with x = 0 and x = 1, and their difference. */
function curvesOf({ columns, matrix }: CoxExample, fit: CoxFit, year = TICK) {
  const [name = ""] = fit.estimated;
  const at = [{ label: "one", values: name === "x" ? AT : {} }];
  const predicted = present(predictedCurves(columns, matrix, fit, { at, years: [year] }));
  const [value] = predicted.curves[0]?.atYears ?? [];
  const groups = [0, 1].map((x) => ({ label: `${x}`, matrix: withValue(matrix, name, x) }));
  const standardised = present(standardisedCurves(columns, matrix, fit, { groups, years: [year] }));
  const [own] = standardised.years;
  if (value === undefined || own === undefined) throw new Error("no year");
  const { risks, differences } = present(own);
  const [difference] = differences;
  if (difference === undefined) throw new Error("no difference");
  return {
    settings: [predicted.settings.smallSample, standardised.settings.smallSample],
    errors: [present(value), ...risks, present(difference)].map(({ standardError }) => standardError),
  };
}

function curvesBy(from: CoxExample, options: CoxOptions, year?: number) {
  return curvesOf(from, fitted(from, options), year);
}

/** The same numbers and each cluster's influence on them, from sums over every row of every risk set ("breslow"). */
function naiveErrors({ columns, matrix }: CoxExample, beta: readonly number[]): number[] {
  const { exit, event, entry, stratum, weight, cluster } = columns;
  const rows = [...matrix.rows.keys()];
  const x = (row: number) => matrix.columns.map(({ values }) => values[row] ?? 0);
  const w = (row: number) => weight?.values[row] ?? 1;
  const ratio = (at: readonly number[], b: readonly number[]) =>
    Math.exp(at.reduce((sum, value, j) => sum + value * (b[j] ?? 0), 0));
  const failed = rows.filter((row) => event[row] !== 0 && (exit[row] ?? 0) <= TICK);
  /** Of one stratum: the hazard, or what one cluster's rows do to it, the coefficients held. */
  const hazard = (place: number, b: readonly number[], code?: number) =>
    failed
      .filter((row) => stratum?.codes[row] === place)
      .reduce((sum, row) => {
        const tick = exit[row] ?? 0;
        const atRisk = rows.filter(
          (other) =>
            stratum?.codes[other] === place && (entry?.[other] ?? -1) < tick && (exit[other] ?? 0) >= tick,
        );
        const over = (list: readonly number[]) =>
          list.reduce((total, other) => total + w(other) * ratio(x(other), b), 0);
        const all = over(atRisk);
        if (code === undefined) return sum + w(row) / all;
        const part = over(atRisk.filter((other) => cluster?.codes[other] === code));
        return sum + (cluster?.codes[row] === code ? w(row) / all : 0) - (w(row) * part) / (all * all);
      }, 0);
  const weights = rows.reduce((sum, row) => sum + w(row), 0);
  const inGroup = (row: number, group: number) => [group, ...x(row).slice(1)];
  const riskOf = (row: number, group: number, b: readonly number[]) =>
    -Math.expm1(-hazard(stratum?.codes[row] ?? 0, b) * ratio(inGroup(row, group), b));
  const averageOf = (group: number, b: readonly number[]) =>
    rows.reduce((sum, row) => sum + (w(row) / weights) * riskOf(row, group, b), 0);
  const heldRisk = (group: number, code: number) => {
    const average = averageOf(group, beta);
    return rows.reduce((sum, row) => {
      const own = riskOf(row, group, beta);
      const place = stratum?.codes[row] ?? 0;
      const byHazard = (1 - own) * ratio(inGroup(row, group), beta) * hazard(place, beta, code);
      const bySelf = cluster?.codes[row] === code ? own - average : 0;
      return sum + (w(row) / weights) * (byHazard + bySelf);
    }, 0);
  };
  const at = [AT.x, AT.z];
  const numbers: { of: (b: readonly number[]) => number; held: (code: number) => number }[] = [
    { of: (b) => ratio(at, b) * hazard(0, b), held: (code) => ratio(at, beta) * hazard(0, beta, code) },
    { of: (b) => averageOf(0, b), held: (code) => heldRisk(0, code) },
    { of: (b) => averageOf(1, b), held: (code) => heldRisk(1, code) },
    {
      of: (b) => averageOf(1, b) - averageOf(0, b),
      held: (code) => heldRisk(1, code) - heldRisk(0, code),
    },
  ];
  const { moves } = naiveCorrected({ columns, matrix }, "breslow", beta);
  return numbers.map(({ of, held }) => {
    const slope = beta.map((_, j) => {
      const [up, down] = [1e-5, -1e-5].map((by) =>
        of(beta.map((value, k) => (k === j ? value + by : value))),
      );
      return ((up ?? 0) - (down ?? 0)) / 2e-5;
    });
    const influence = [...moves].map(([code, move]) =>
      move.reduce((sum, value, j) => sum + value * (slope[j] ?? 0), held(code)),
    );
    return Math.sqrt(influence.reduce((sum, own) => sum + own * own, 0));
  });
}

describe("predictedCurves() and standardisedCurves() over few clusters", () => {
  it('multiply their variances by G / (G − 1) where the fit does ("clusters", closed form)', () => {
    const from = lung({ clustered: true });
    const year = 1;
    const plain = curvesBy(from, {}, year);
    const clusters = curvesBy(from, { smallSample: "clusters" }, year);
    const [count = 0] = fitted(from).settings.clusters;
    clusters.errors.forEach((error, at) => {
      expectRelative(error, (plain.errors[at] ?? 0) * Math.sqrt(count / (count - 1)), 1e-12);
    });
    expect(clusters.settings).toEqual(["clusters", "clusters"]);
    expect(plain.settings).toEqual(["none", "none"]);
  });

  it.each([21, 22])('correct each cluster\'s score where the fit does ("shares", twin, seed %i)', (seed) => {
    for (const weighted of [false, true]) {
      const from = example(seed, weighted);
      const fit = fitted(from, { sameDay: "breslow", smallSample: "shares" });
      const beta = fit.columns.map(({ hazardRatio }) => present(hazardRatio).logRatio);
      const { errors, settings } = curvesOf(from, fit);
      naiveErrors(from, beta).forEach((error, at) => {
        expectRelative(errors[at], error, 1e-8);
      });
      expect(settings).toEqual(["shares", "shares"]);
    }
  });

  it("give first + second − both, each corrected, for two ways (identity)", () => {
    const from = lung({ clustered: true });
    const codes = Array.from(from.columns.exit, (_, row) => row);
    const own = { codes, word: "row" };
    for (const smallSample of ["none", "shares"] as const) {
      // Rows lie within institutions: institutions + rows − rows.
      const fit = fitted(from, { smallSample, secondCluster: own });
      const groups = [0, 1].map((x) => ({ label: `${x}`, matrix: withValue(from.matrix, "sex", x) }));
      const years = [1];
      const [two, one] = [{ secondCluster: own }, {}].map((second) =>
        present(standardisedCurves(from.columns, from.matrix, fit, { groups, years, ...second })).years.map(
          present,
        ),
      );
      two?.[0]?.risks.forEach(({ standardError }, at) => {
        expectRelative(standardError, one?.[0]?.risks[at]?.standardError ?? Number.NaN, 1e-10);
      });
    }
  });

  it("widen nothing where the variance is the model's, as the fit does not", () => {
    const from = lung();
    const [plain, asked] = [{}, { smallSample: "clusters" } as const].map((options) =>
      curvesBy(from, options, 1),
    );
    expect(asked?.errors).toEqual(plain?.errors);
    expect(asked?.settings).toEqual(["none", "none"]);
  });

  it("have no limits before the first event of a stratum", () => {
    const from = lung();
    const fit = fitted(from);
    const { curves } = present(
      predictedCurves(from.columns, from.matrix, fit, { at: [{ label: "one", values: {} }], years: [0] }),
    );
    const [value] = curves[0]?.atYears ?? [];
    if (value === undefined) throw new Error("no year");
    expect(present(value)).toMatchObject({ survival: 1, lower: null, upper: null });
  });
});
