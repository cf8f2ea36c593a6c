import { fineGrayRegression } from "../../../src/regression/fine-gray-regression.ts";
import { modelMatrix } from "../../../src/regression/model-terms.ts";
import { numberTerm } from "../../../src/regression/term-number.ts";
import { numberColumn, referenceRecord, referenceRows } from "../../../tests/reference/reference-files.ts";
import type { Tolerance } from "../../../tests/reference/tolerance.ts";
import { fileNumbers, numbers } from "../../../tests/regression/some-table.ts";
import { type Method, seriesCheck } from "../check.ts";
import { answered } from "../curves.ts";
import { estimatesOf } from "../fitted-values.ts";
import { REFERENCES } from "../references.ts";

// The records ask for 1e-7 and 1e-6.
const NEAR: Tolerance = { relative: 1e-10, absolute: 0 };

/** Proportional hazards of the subdistribution. */
export function fineGrayChecks(): Method {
  const { expected } = referenceRecord("04_competing_risks", "finegray.mgus2");
  const shifted = referenceRecord("04_competing_risks", "finegray.tie_convention").expected;
  const rows = referenceRows("mgus2.csv");
  const observations = {
    exit: numberColumn(rows, "time"),
    event: numberColumn(rows, "event"),
    causes: ["malignancy", "death"],
  };
  const male = numbers(
    "male",
    rows.map(({ sex }) => (sex === "M" ? 1 : 0)),
  );
  const matrix = modelMatrix(
    [fileNumbers(rows, "age"), male, fileNumbers(rows, "mspike")],
    [numberTerm("age", { per: 10, unit: "years" }), numberTerm("male"), numberTerm("mspike")],
  );
  const withWeights = (censoringWeights: "estimated" | "known") =>
    answered(fineGrayRegression(observations, matrix, { cause: "malignancy", censoringWeights }));
  const [estimated, known] = [withWeights("estimated"), withWeights("known")];
  return {
    id: "fine-gray-regression",
    title: "Fine–Gray regression of crude risk",
    functions: ["fineGrayRegression"],
    notes: [
      "Events come before the censorings of a tick. cmprsk lets those with an event on a tick be censored on it; its variance is compared on data in which every censoring was moved a tenth of a month later, where both conventions are one.",
    ],
    examples: [
      {
        title:
          "Malignancy by age, sex and size of the spike in 1373 people, death competing (Kyle and others 2002)",
        fromMemory: false,
        reference: `${REFERENCES.survival}; variance with estimated weights: ${REFERENCES.cmprsk}`,
        checks: [
          seriesCheck("Coefficients", estimatesOf(estimated), expected.finegrayBreslow.coef, NEAR),
          seriesCheck(
            "Coefficients of the other program",
            estimatesOf(estimated),
            shifted.crrAfterShift,
            NEAR,
          ),
          seriesCheck(
            "Covariance, weights taken as known",
            known.covariance.flat(),
            expected.finegrayBreslow.robustVcov.flat(),
            NEAR,
          ),
          seriesCheck(
            "Covariance, weights estimated",
            estimated.covariance.flat(),
            shifted.crrAfterShiftVcov.flat(),
            NEAR,
          ),
        ],
      },
    ],
  };
}
