import { describe, expect, it } from "vitest";
import { coxResiduals } from "../../src/regression/cox-residuals.ts";
import { coxInfluence } from "../../src/regression/cox-row-influence.ts";
import { expectAllRelative, expectRelative, referenceRecord } from "../reference/record.ts";
import { fitted, heart, lung, present, sixRows } from "./cox-examples.ts";

const { expected: sixExpected } = referenceRecord("05_cox", "cox.test1");

describe("coxResiduals() and coxInfluence()", () => {
  it.each(["breslow", "efron"] as const)(
    "meet every residual of six rows under %s (Therneau and Grambsch 2000, appendix E; R survival)",
    (sameDay) => {
      const { columns, matrix } = sixRows();
      const theirs = sixExpected[sameDay];
      const fit = fitted({ columns, matrix }, { sameDay });
      const residuals = present(coxResiduals(columns, matrix, fit));
      expectAllRelative(residuals.martingale, theirs.martingale, 1e-9);
      expectAllRelative(residuals.deviance, theirs.deviance, 1e-9);
      expectAllRelative(residuals.score[0] ?? [], theirs.scoreResid, 1e-9);
      expect(residuals.eventTicks).toEqual([1, 6, 6, 9]);
      // The last event is alone at risk: its residual is 0.
      expectAllRelative(residuals.schoenfeld[0]?.slice(0, 3) ?? [], theirs.schoenfeld.slice(0, 3), 1e-9);
      expect(Math.abs(residuals.schoenfeld[0]?.[3] ?? 1)).toBeLessThan(1e-15);
      const influence = present(coxInfluence(columns, matrix, fit));
      expect(influence).toMatchObject({ by: "row", firstRow: [0, 1, 2, 3, 4, 5] });
      expectAllRelative(influence.change[0] ?? [], theirs.dfbeta, 1e-9);
    },
  );

  it("meet the first Schoenfeld residuals of the lung data (R survival)", () => {
    const { columns, matrix } = lung();
    const residuals = present(coxResiduals(columns, matrix, fitted({ columns, matrix })));
    const { schoenfeldFirst5 } = referenceRecord("05_cox", "cox.lung_zph").expected;
    // R orders events of one tick by row within the sorted data, as here.
    schoenfeldFirst5.forEach((line: number[], at: number) => {
      line.forEach((value, j) => {
        expectRelative(residuals.schoenfeld[j]?.[at], value, 1e-7);
      });
    });
  });

  it("add up: martingale and score to 0, squared influence to the clustered variance (identities)", () => {
    const { columns, matrix } = heart(["age", "surgery", "transplant"], { clustered: true });
    const fit = fitted({ columns, matrix });
    const residuals = present(coxResiduals(columns, matrix, fit));
    const sum = (values: readonly number[] = []) => values.reduce((total, value) => total + value, 0);
    expect(Math.abs(sum(residuals.martingale))).toBeLessThan(1e-10);
    for (const score of residuals.score) expect(Math.abs(sum(score))).toBeLessThan(1e-7);
    for (const own of residuals.schoenfeld) expect(Math.abs(sum(own))).toBeLessThan(1e-7);
    const { change, by, firstRow } = present(coxInfluence(columns, matrix, fit));
    expect(by).toBe("person");
    expect(firstRow.length).toBe(fit.settings.clusters[0]);
    change.forEach((own, j) => {
      expectRelative(sum(own.map((value) => value * value)), fit.covariance[j]?.[j] ?? 0, 1e-10);
    });
  });

  it("is the change on leaving a row out, to first order (twin: the fit without it)", () => {
    const { columns, matrix } = lung();
    const fit = fitted({ columns, matrix });
    const { change } = present(coxInfluence(columns, matrix, fit));
    const [all = 0, without = 0] = [fit, fitted({ columns, matrix: withoutRow(matrix, 3) })].map(
      ({ columns: [age] }) => (age?.hazardRatio.computed ? age.hazardRatio.logRatio : Number.NaN),
    );
    expect(Math.abs(all - without - (change[0]?.[3] ?? 0))).toBeLessThan(0.1 * Math.abs(all - without));
  });
});

function withoutRow(matrix: ReturnType<typeof lung>["matrix"], out: number) {
  return {
    ...matrix,
    rows: matrix.rows.filter((_, at) => at !== out),
    columns: matrix.columns.map(({ name, values }) => ({
      name,
      values: values.filter((_, at) => at !== out),
    })),
  };
}
