import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import type { ModelMatrix } from "../../src/regression/model-matrix.ts";
import { baselineHazard, predictedCurves } from "../../src/regression/predicted-curves.ts";
import { asIfInGroup, standardisedCurves } from "../../src/regression/standardised-curves.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { expectAllRelative, expectRelative, referenceRecord } from "../reference/record.ts";
import { fitted, lung, present, sixRows } from "./cox-examples.ts";

/** One tick a year, so that a year is a tick. */
const byTick = (columns: ObservationColumns): ObservationColumns => ({
  ...columns,
  timeUnit: TIME_UNITS.year,
});

describe("baselineHazard() and predictedCurves() against reference values (R survival)", () => {
  it.each(["breslow", "efron"] as const)("meet the six rows under %s", (sameDay) => {
    const { expected } = referenceRecord("05_cox", "cox.test1");
    const { basehaz0, survivalAtX0 } = expected[sameDay];
    const { columns, matrix } = sixRows();
    const fit = fitted({ columns: byTick(columns), matrix }, { sameDay });
    const { curves } = present(baselineHazard(byTick(columns), matrix, fit, { years: basehaz0.time }));
    const values = (curves[0]?.atYears ?? []).map(present);
    expectAllRelative(
      values.map(({ cumulativeHazard }) => cumulativeHazard),
      basehaz0.hazard,
      1e-9,
    );
    expectAllRelative(
      values.map(({ survival }) => survival),
      survivalAtX0.surv,
      1e-9,
    );
    expectAllRelative(
      values.map(({ standardError }) => standardError),
      survivalAtX0.se,
      1e-9,
    );
  });

  it("meet the lung data: baseline at zero, two predicted curves with limits on the log scale", () => {
    const { expected } = referenceRecord("05_cox", "cox.lung");
    const { columns, matrix } = lung();
    const data = byTick(columns);
    for (const [sameDay, part] of [
      ["efron", "baseHazardAtZero"],
      ["breslow", "baseHazardAtZeroBreslow"],
    ] as const) {
      const { curves } = present(
        baselineHazard(data, matrix, fitted({ columns: data, matrix }, { sameDay }), {
          years: expected[part].time,
        }),
      );
      const hazards = (curves[0]?.atYears ?? []).map((value) => present(value).cumulativeHazard);
      expectAllRelative(hazards, expected[part].cumhaz, 1e-8);
    }
    const { newdata, times, survival, seSurvival, lower, upper } = expected.prediction;
    const at = [0, 1].map((k) => ({
      label: `person ${k + 1}`,
      values: { age: newdata.age[k], sex: newdata.sex[k], ecog: newdata.ecog[k] },
    }));
    const { curves } = present(
      predictedCurves(data, matrix, fitted({ columns: data, matrix }), { at, years: times, scale: "log" }),
    );
    curves.forEach((curve, k) => {
      curve.atYears.map(present).forEach((value, t) => {
        expectRelative(value.survival, survival[t][k], 1e-8);
        expectRelative(value.survival * value.standardError, seSurvival[t][k], 1e-8);
        expectRelative(value.lower, lower[t][k], 1e-8);
        expectRelative(value.upper, upper[t][k], 1e-8);
      });
    });
  });

  it("gives no value after the last follow-up", () => {
    const { columns, matrix } = sixRows();
    const { curves } = present(
      baselineHazard(byTick(columns), matrix, fitted({ columns: byTick(columns), matrix }), { years: [10] }),
    );
    expect(curves[0]?.atYears[0]).toMatchObject({ computed: false, code: "beyond-follow-up" });
  });
});

/** The lung data with sex as a category, strata and clusters by turns, and sampling weights. */
function lungBySex(weights: readonly number[]): { columns: ObservationColumns; matrix: ModelMatrix } {
  const { columns, matrix } = lung();
  const [age, sex, ecog] = matrix.columns;
  if (age === undefined || sex === undefined || ecog === undefined) throw new Error("a column is missing");
  return {
    columns: {
      ...byTick(columns),
      stratum: { codes: Array.from(ecog.values, (value) => (value > 1 ? 1 : 0)), labels: ["able", "weak"] },
      weight: { kind: "sampling", values: weights },
    },
    matrix: {
      ...matrix,
      columns: [age, { name: "women", values: sex.values.map((value) => value - 1) }],
      terms: [
        { name: "age", kind: "number", from: 0, columns: 1 },
        { name: "sex", kind: "category", from: 1, columns: 1, reference: "men" },
      ],
    },
  };
}

function risksOf(weights: readonly number[], year: number) {
  const { columns, matrix } = lungBySex(weights);
  const fit = fitted({ columns, matrix }, { sameDay: "breslow" });
  const { years } = present(
    standardisedCurves(columns, matrix, fit, { groups: asIfInGroup(matrix, "sex"), years: [year] }),
  );
  const [value] = years;
  if (value === undefined) throw new Error("no year");
  return present(value);
}

describe("standardisedCurves()", () => {
  const weights = Array.from({ length: 226 }, (_, row) => 1 + (row % 4) / 4);

  it("averages predicted risks over the cohort (twin: one prediction a row)", () => {
    const { columns, matrix } = lung();
    const data = byTick(columns);
    const fit = fitted({ columns: data, matrix });
    const groups = [1, 2].map((sex) => ({
      label: `sex ${sex}`,
      matrix: {
        ...matrix,
        columns: matrix.columns.map((column) =>
          column.name === "sex" ? { ...column, values: column.values.map(() => sex) } : column,
        ),
      },
    }));
    const [year] = present(standardisedCurves(data, matrix, fit, { groups, years: [365] })).years;
    if (year === undefined) throw new Error("no year");
    const value = present(year);
    for (const [side, { matrix: own }] of groups.entries()) {
      const at = Array.from(own.rows, (row) => ({
        label: "",
        values: Object.fromEntries(own.columns.map(({ name, values }) => [name, values[row] ?? 0])),
      }));
      const { curves } = present(predictedCurves(data, matrix, fit, { at, years: [365] }));
      const risks = curves.map(({ atYears: [first] }) => (first?.computed ? 1 - first.survival : Number.NaN));
      expectRelative(value.risks[side]?.risk, risks.reduce((sum, one) => sum + one, 0) / risks.length, 1e-12);
    }
    const [difference] = value.differences;
    if (difference === undefined) throw new Error("no difference");
    expectRelative(
      present(difference).estimate,
      (value.risks[1]?.risk ?? 0) - (value.risks[0]?.risk ?? 0),
      1e-12,
    );
  });

  it("takes its standard errors from the change with each row's weight (twin: numerical derivatives of whole fits)", () => {
    const { risks, differences } = risksOf(weights, 400);
    let [risk, apart] = [0, 0];
    weights.forEach((weight, row) => {
      const step = 1e-4 * weight;
      const [up, down] = [step, -step].map((by) =>
        risksOf(
          weights.map((own, at) => (at === row ? own + by : own)),
          400,
        ),
      );
      const slope = (value: (of: typeof up) => number) => ((value(up) - value(down)) / (2 * step)) * weight;
      const first = slope((of) => of?.risks[0]?.risk ?? Number.NaN);
      const second = slope((of) => of?.risks[1]?.risk ?? Number.NaN);
      risk += first * first;
      apart += (second - first) * (second - first);
    });
    expectRelative(risks[0]?.standardError, Math.sqrt(risk), 1e-6);
    const [difference] = differences;
    if (difference === undefined) throw new Error("no difference");
    expectRelative(present(difference).standardError, Math.sqrt(apart), 1e-6);
  });

  it("refuses a category that is part of an interaction, and a matrix of other rows", () => {
    const { columns, matrix } = lungBySex(weights);
    const mixed = {
      ...matrix,
      terms: [...matrix.terms, { name: "age × sex", kind: "interaction", from: 0, columns: 0 } as const],
    };
    expect(() => asIfInGroup(mixed, "sex")).toThrow(/part of "age × sex"/);
    expect(() => asIfInGroup(matrix, "age")).toThrow(/no category/);
    const fit = fitted({ columns, matrix });
    const short = { ...matrix, rows: matrix.rows.slice(1) };
    expect(() =>
      standardisedCurves(columns, matrix, fit, { groups: [{ label: "x", matrix: short }], years: [1] }),
    ).toThrow(/other rows or columns/);
  });
});
