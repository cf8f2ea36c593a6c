import { describe, expect, it } from "vitest";
import { coxRegression } from "../../src/regression/cox-regression.ts";
import { hazardRatiosByPeriod } from "../../src/regression/hazard-ratios-by-period.ts";
import { expectRelative, referenceRecord } from "../reference/record.ts";
import { fitted, lung, present, veteranTogether } from "./cox-examples.ts";

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
});
