import { describe, expect, it } from "vitest";
import { type FineGrayOptions, fineGrayRegression } from "../../src/regression/fine-gray-regression.ts";
import { modelMatrix } from "../../src/regression/model-terms.ts";
import { numberTerm } from "../../src/regression/term-number.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { expectAllRelative, numberColumn, referenceRecord, referenceRows } from "../reference/record.ts";
import { fileNumbers, numbers } from "./some-table.ts";

const rows = referenceRows("mgus2.csv");
const observations: ObservationColumns = {
  exit: numberColumn(rows, "time"),
  event: numberColumn(rows, "event"),
  causes: ["malignancy", "death"],
};
const table = [
  fileNumbers(rows, "age"),
  fileNumbers(rows, "mspike"),
  numbers(
    "male",
    rows.map(({ sex }) => (sex === "M" ? 1 : 0)),
  ),
];
const matrix = modelMatrix(table, [numberTerm("age", { per: 10 }), numberTerm("male"), numberTerm("mspike")]);

function fitted(options: FineGrayOptions, columns = observations) {
  const answer = fineGrayRegression(columns, matrix, options);
  if (!answer.computed) throw new Error(answer.because);
  return answer;
}

describe("fineGrayRegression() against reference numbers", () => {
  const { expected } = referenceRecord("04_competing_risks", "finegray.mgus2");
  const shifted = referenceRecord("04_competing_risks", "finegray.tie_convention").expected;

  it("meets the estimates with events before censorings", () => {
    const fit = fitted({ cause: "malignancy" });
    expect(fit.rows).toBe(expected.n);
    expectAllRelative(
      fit.columns.map(({ coefficient }) => (coefficient.computed ? coefficient.estimate : null)),
      shifted.eventsFirst,
      1e-7,
    );
  });

  it("meets the variance with the weights known", () => {
    const fit = fitted({ cause: "malignancy", censoringWeights: "known" });
    fit.covariance.forEach((line, at) => {
      expectAllRelative([...line], expected.finegrayBreslow.robustVcov[at], 1e-6);
    });
  });

  it("meets the variance that includes the estimation of the weights", () => {
    const fit = fitted({ cause: "malignancy" });
    fit.covariance.forEach((line, at) => {
      expectAllRelative([...line], shifted.crrAfterShiftVcov[at], 1e-6);
    });
  });
});
