import { describe, expect, it } from "vitest";
import { coxRegression } from "../../src/regression/cox-regression.ts";
import { hazardRatiosByPeriod } from "../../src/regression/hazard-ratios-by-period.ts";
import { expectRelative, referenceRecord } from "../reference/record.ts";
import { type CoxExample, fitted, lung, matrixOf, present, veteranTogether } from "./cox-examples.ts";
import { drawnExample } from "./drawn-example.ts";

const logRatio = (column: { hazardRatio: { computed: boolean } } | undefined) =>
  column !== undefined && "logRatio" in column.hazardRatio ? Number(column.hazardRatio.logRatio) : Number.NaN;

describe("hazardRatiosByPeriod()", () => {
  it("meets the ratios of karno by period in the veteran data (R survival; the vignette's printed figures)", () => {
    // With a baseline for each period, ratios of the periods are those of three fits on their own.
    const { expected } = referenceRecord("05_cox", "cox.veteran_steps");
    const { columns, matrix } = veteranTogether();
    const result = present(hazardRatiosByPeriod(columns, matrix, { term: "karno", cuts: [90, 180] }));
    result.periods.forEach(({ columns: [column] }, at) => {
      expectRelative(logRatio(column), expected.coef[2 + at], 1e-8);
    });
    expect(result.periods.map(({ after, upTo }) => [after, upTo])).toEqual([
      [-1, 90],
      [90, 180],
      [180, null],
    ]);
    expect(result.periods.reduce((sum, { events }) => sum + events, 0)).toBe(expected.events);
    const contrast = [expected.coef[3] - expected.coef[2], expected.coef[4] - expected.coef[2]];
    expect(present(result.change)).toMatchObject({ degreesOfFreedom: 2, variance: "model" });
    expect(present(result.change).chiSquare).toBeGreaterThan(contrast.length);
  });

  it("has the whole fit beside it, and the same fit where the only cut comes after all follow-up (identity)", () => {
    const { columns, matrix } = lung({ clustered: true });
    const whole = fitted({ columns, matrix });
    const result = present(hazardRatiosByPeriod(columns, matrix, { term: "sex", cuts: [300] }));
    expect(result.average).toEqual(whole.columns.filter(({ column }) => column === "sex"));
    expect(result.fits.byPeriod.settings).toMatchObject({
      clusteredBy: ["institution"],
      degreesOfFreedom: 17,
    });
    const late = present(hazardRatiosByPeriod(columns, matrix, { term: "sex", cuts: [5000] }));
    expectRelative(logRatio(late.periods[0]?.columns[0]), logRatio(whole.columns[1]), 1e-10);
    expectRelative(late.fits.byPeriod.logLikelihood, whole.logLikelihood, 1e-12);
    expect(late.periods[1]?.columns[0]?.hazardRatio).toMatchObject({ computed: false, code: "constant" });
    expect(late.change).toMatchObject({ computed: false, code: "not-estimable" });
  });

  it("counts (after, upTo]: an event on the cut belongs to the earlier period (closed form)", () => {
    const columns = { exit: [1, 2, 3, 4, 5, 6, 7, 8], event: [1, 1, 1, 1, 1, 1, 1, 0] };
    const values = Float64Array.of(0, 1, 1, 0, 1, 0, 1, 0);
    const matrix = {
      rows: Int32Array.from(values.keys()),
      columns: [{ name: "x", values }],
      terms: [{ name: "x", kind: "number", from: 0, columns: 1 } as const],
      lost: [],
    };
    const { periods, fits } = present(hazardRatiosByPeriod(columns, matrix, { term: "x", cuts: [4] }));
    expect(periods.map(({ events }) => events)).toEqual([4, 3]);
    // Ratios of the periods are those of follow-up ended at, and begun after, the cut.
    const early = present(
      coxRegression(
        { exit: columns.exit.map((tick) => Math.min(tick, 4)), event: [1, 1, 1, 1, 0, 0, 0, 0] },
        matrix,
      ),
    );
    const late = present(
      coxRegression(
        { exit: columns.exit.slice(4), event: columns.event.slice(4) },
        { ...matrix, rows: Int32Array.of(0, 1, 2, 3), columns: [{ name: "x", values: values.slice(4) }] },
      ),
    );
    expectRelative(logRatio(periods[0]?.columns[0]), logRatio(early.columns[0]), 1e-9);
    expectRelative(logRatio(periods[1]?.columns[0]), logRatio(late.columns[0]), 1e-9);
    expectRelative(fits.byPeriod.logLikelihood, early.logLikelihood + late.logLikelihood, 1e-12);
  });

  it("is the fit of rows cut by hand, with strata and late entries (identity, seeds 31 and 32)", () => {
    for (const [seed, weighted] of [
      [31, false],
      [32, true],
    ] as const) {
      const example = drawnExample(seed, { clustered: true, weighted });
      const asked = { term: "x", cuts: [4, 7] } as const;
      const { fits, periods } = present(hazardRatiosByPeriod(example.columns, example.matrix, asked));
      const byHand = fitted(cutByHand(example, asked.cuts));
      expect(fits.byPeriod.fit.converged).toBe(true);
      expectRelative(fits.byPeriod.logLikelihood, byHand.logLikelihood, 1e-12);
      fits.byPeriod.covariance.flat().forEach((value, at) => {
        expectRelative(value, byHand.covariance.flat()[at] ?? Number.NaN, 1e-9);
      });
      periods.forEach(({ columns: [column] }, window) => {
        expectRelative(logRatio(column), logRatio(byHand.columns[window]), 1e-9);
      });
      // What a reader is told of strata and entries is of the rows as they were given.
      expect(fits.byPeriod.settings).toMatchObject({ stratified: true, delayedEntry: true });
      expect(fits.byPeriod).toMatchObject({ strata: 2, strataWithoutEvents: 0 });
    }
  });

  it("says nothing of strata or late entries that the rows did not have", () => {
    const { columns, matrix } = lung({ clustered: true });
    const { fits } = present(hazardRatiosByPeriod(columns, matrix, { term: "sex", cuts: [300] }));
    expect(fits.byPeriod).toMatchObject({ strata: 1, settings: { stratified: false, delayedEntry: false } });
  });

  it("takes the average that was fitted already, and refuses one of other columns (identity)", () => {
    const { columns, matrix } = lung({ clustered: true });
    const asked = { term: "sex", cuts: [300] } as const;
    const average = fitted({ columns, matrix });
    const result = hazardRatiosByPeriod(columns, matrix, { ...asked, average });
    expect(result).toEqual(hazardRatiosByPeriod(columns, matrix, asked));
    expect(present(result).fits.average).toEqual(average);
    const other = fitted({ columns, matrix: { ...matrix, columns: matrix.columns.slice(1), terms: [] } });
    expect(() => hazardRatiosByPeriod(columns, matrix, { ...asked, average: other })).toThrow(
      "hazardRatiosByPeriod: average is a fit of other columns",
    );
    for (const options of [
      { level: 0.9 },
      { sameDay: "breslow" },
      { variance: "model" },
      { smallSample: "shares" },
    ] as const) {
      expect(() => hazardRatiosByPeriod(columns, matrix, { ...asked, ...options, average })).toThrow(
        "options",
      );
    }
  });
});

/** Pieces in one list, with their entries, in the strata that the rows had. */
function cutByHand({ columns, matrix }: CoxExample, cuts: readonly number[]): CoxExample {
  const [x, z] = matrix.columns.map(({ values }) => values);
  const pieces = Array.from(columns.exit, (exit, row) =>
    [...cuts, exit].map((end, window) => ({
      row,
      window,
      from: Math.max(columns.entry?.[row] ?? -1, cuts[window - 1] ?? -1),
      to: Math.min(exit, end),
    })),
  )
    .flat()
    .filter(({ from, to }) => to > from);
  const of = (values: ArrayLike<number>) => pieces.map(({ row }) => values[row] ?? 0);
  const { weight, cluster, stratum } = columns;
  return {
    columns: {
      entry: pieces.map(({ from }) => from),
      exit: pieces.map(({ to }) => to),
      event: pieces.map(({ row, to }) => (to === columns.exit[row] ? (columns.event[row] ?? 0) : 0)),
      caseId: pieces.map(({ row }) => row),
      ...(stratum && { stratum: { ...stratum, codes: of(stratum.codes) } }),
      ...(weight && { weight: { ...weight, values: of(weight.values) } }),
      ...(cluster && { cluster: { ...cluster, codes: of(cluster.codes) } }),
    },
    matrix: matrixOf({
      ...Object.fromEntries(
        [0, 1, 2].map((own) => [
          `x ${own}`,
          pieces.map(({ row, window }) => (window === own ? (x?.[row] ?? 0) : 0)),
        ]),
      ),
      z: of(z ?? []),
    }),
  };
}
