import { describe, expect, it } from "vitest";
import { chiSquareUpperQuantile } from "../../src/numeric/chi-square.ts";
import { coxProfileLimits } from "../../src/regression/cox-profile-limits.ts";
import { expectRelative, referenceRecord } from "../reference/record.ts";
import { fitted, freireich, larynx, monotone, present } from "./cox-examples.ts";
import { naiveLogLikelihood } from "./naive-cox.ts";

describe("coxProfileLimits()", () => {
  it("are where the plainly written likelihood has fallen by half the chi-square (twin)", () => {
    const example = freireich();
    for (const sameDay of ["efron", "breslow"] as const) {
      const fit = fitted(example, { sameDay });
      const { columns } = present(coxProfileLimits(example.columns, example.matrix, { sameDay }));
      const [first] = columns;
      if (first === undefined) throw new Error("no column");
      const { lower, upper, chiSquare } = present(first.profile);
      for (const limit of [lower, upper]) {
        const fallen = fit.logLikelihood - naiveLogLikelihood(example, sameDay, [Math.log(limit)]);
        expectRelative(2 * fallen, chiSquareUpperQuantile(0.05, 1), 1e-8);
      }
      expectRelative(chiSquare, present(fit.likelihoodRatio).chiSquare, 1e-9);
    }
  });

  it("fit the other columns again: held at its limit a column leaves the chi-square (identity, larynx)", () => {
    const { columns, matrix } = larynx();
    const whole = fitted({ columns, matrix });
    const { columns: profiles } = present(coxProfileLimits(columns, matrix, { columns: ["age"] }));
    const [age] = profiles;
    if (age === undefined) throw new Error("no column");
    const without = fitted({
      columns,
      matrix: { ...matrix, columns: matrix.columns.slice(0, 3), terms: matrix.terms.slice(0, 1) },
    });
    expectRelative(present(age.profile).chiSquare, 2 * (whole.logLikelihood - without.logLikelihood), 1e-7);
    const wald = whole.columns[3]?.hazardRatio;
    if (!wald?.computed) throw new Error("no ratio");
    // Nearly quadratic here, so the two kinds of limits are close.
    expect(Math.abs(present(age.profile).upper - wald.upper)).toBeLessThan(0.003);
  });

  it("name a separated column instead, whose one limit the fit gives (cox.monotone)", () => {
    const { columns, matrix } = monotone();
    const { columns: profiles } = present(coxProfileLimits(columns, matrix));
    expect(profiles[0]?.profile).toMatchObject({ computed: false, code: "separation" });
    const limit = fitted({ columns, matrix }).columns[0]?.separation?.limit;
    if (!limit?.computed) throw new Error("no limit");
    expectRelative(
      Math.log(limit.ratio),
      referenceRecord("05_cox", "cox.monotone").expected.profileLowerLimit95,
      1e-6,
    );
  });
});
