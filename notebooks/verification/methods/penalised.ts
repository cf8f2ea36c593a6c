import { modelMatrix } from "../../../src/regression/model-terms.ts";
import { penalisedCox } from "../../../src/regression/penalised-cox.ts";
import type { PenalisedFit } from "../../../src/regression/penalised-fit.ts";
import { penalisedLogistic } from "../../../src/regression/penalised-logistic.ts";
import { numberTerm } from "../../../src/regression/term-number.ts";
import { numberColumn, referenceRecord, referenceRows } from "../../../tests/reference/reference-files.ts";
import type { Tolerance } from "../../../tests/reference/tolerance.ts";
import { fileNumbers } from "../../../tests/regression/some-table.ts";
import { type Check, type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered } from "../curves.ts";
import { estimatesOf, limitsOf, standardErrorsOf } from "../fitted-values.ts";
import { REFERENCES } from "../references.ts";

// The records ask for 1e-7 to 1e-5.
const NEAR: Tolerance = { relative: 1e-8, absolute: 0 };

/** Penalised likelihood for few events and separation. */
export function penalisedChecks(): Method {
  return {
    id: "penalised-regression",
    title: "Penalised likelihood (Firth) for logistic and hazard models",
    functions: ["penalisedLogistic", "penalisedCox"],
    examples: [endometrium(), oneSided(), ovary()],
  };
}

function dataOf(file: string, fields: readonly string[]) {
  const rows = referenceRows(file);
  const terms = fields.map((field) => numberTerm(field));
  const columns = fields.map((field) => fileNumbers(rows, field));
  return { rows, matrix: modelMatrix(columns, terms) };
}

function endometrium(): Example {
  const { expected, published } = referenceRecord("09_logistic_propensity", "firth.endometrial");
  const { rows, matrix } = dataOf("endometrial.csv", ["NV", "PI", "EH"]);
  const fit = answered(penalisedLogistic({ outcome: numberColumn(rows, "HG") }, matrix));
  const [, ...printed] = estimatesOf(fit);
  return {
    title: "Grade of 79 tumours, one column without fault (Heinze and Schemper 2002)",
    printedIn: "Heinze and Schemper 2002, coefficients",
    fromMemory: true,
    reference: REFERENCES.base,
    checks: [
      seriesCheck("Coefficients", printed, expected.coef.slice(1), NEAR, {
        figures: published.figures.slice(0, 3),
        decimals: 3,
      }),
      ...fitChecks(fit, { ...expected, se: Object.values(expected.se) }),
    ],
  };
}

function oneSided(): Example {
  const { expected } = referenceRecord("09_logistic_propensity", "firth_cox.monotone");
  const { rows, matrix } = dataOf("firth_cox.csv", ["x", "z"]);
  return hazardExample(
    "Twelve rows, every event on one side of a column (constructed)",
    rows,
    matrix,
    expected,
  );
}

function ovary(): Example {
  const { firth } = referenceRecord("09_logistic_propensity", "firth_cox.ovarian").expected;
  const { rows, matrix } = dataOf("ovarian.csv", ["age", "rx"]);
  const title = "Survival of 26 women with ovarian cancer by age and treatment";
  return hazardExample(title, rows, matrix, { ...firth, se: Object.values(firth.se) });
}

interface Expected {
  readonly coef: readonly number[];
  readonly se: readonly unknown[];
  readonly profileLower: readonly number[];
  readonly profileUpper: readonly number[];
  readonly profileP: readonly number[];
  readonly penalisedLoglik: number;
}

function hazardExample(
  title: string,
  rows: ReturnType<typeof referenceRows>,
  matrix: ReturnType<typeof modelMatrix>,
  expected: Expected,
): Example {
  const observations = { exit: numberColumn(rows, "time"), event: numberColumn(rows, "status") };
  const fit = answered(penalisedCox(observations, matrix, { sameDay: "breslow" }));
  return {
    title,
    fromMemory: false,
    reference: `${REFERENCES.base}, direct maximisation`,
    checks: [seriesCheck("Coefficients", estimatesOf(fit), expected.coef, NEAR), ...fitChecks(fit, expected)],
  };
}

function fitChecks(fit: PenalisedFit, expected: Expected): Check[] {
  const p = fit.columns.map(({ coefficient }) => (coefficient.computed ? coefficient.p : null));
  return [
    seriesCheck("Standard errors", standardErrorsOf(fit), expected.se, NEAR),
    seriesCheck("Profile limits", limitsOf(fit), [...expected.profileLower, ...expected.profileUpper], NEAR),
    seriesCheck("Penalised likelihood-ratio p", p, expected.profileP, NEAR),
    valueCheck("Penalised log-likelihood", fit.penalisedLogLikelihood, expected.penalisedLoglik, NEAR),
  ];
}
