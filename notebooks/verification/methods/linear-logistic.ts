import { linearRegression } from "../../../src/regression/linear-regression.ts";
import { logisticRegression } from "../../../src/regression/logistic-regression.ts";
import { modelMatrix } from "../../../src/regression/model-terms.ts";
import { categoryTerm } from "../../../src/regression/term-category.ts";
import { curveTerm } from "../../../src/regression/term-curve.ts";
import { curveBasis } from "../../../src/regression/term-curve-basis.ts";
import { interactionTerm } from "../../../src/regression/term-interaction.ts";
import { numberTerm } from "../../../src/regression/term-number.ts";
import { periodTerm } from "../../../src/regression/term-period.ts";
import { numberColumn, referenceRecord, referenceRows } from "../../../tests/reference/reference-files.ts";
import { EXACT, type Tolerance, toleranceOf } from "../../../tests/reference/tolerance.ts";
import { fileLevels, fileNumbers, numbers } from "../../../tests/regression/some-table.ts";
import { type Check, type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered } from "../curves.ts";
import { estimatesOf, limitsOf } from "../fitted-values.ts";
import { REFERENCES } from "../references.ts";

/** Model terms: curves, periods and products. */
export function modelTermChecks(): Method {
  return {
    id: "model-terms",
    title: "Model terms: restricted cubic splines, periods, interactions",
    functions: [
      "modelMatrix",
      "numberTerm",
      "categoryTerm",
      "curveTerm",
      "curveBasis",
      "interactionTerm",
      "periodTerm",
    ],
    examples: [termColumns()],
  };
}

/** Linear and logistic regression with every variance. */
export function linearLogisticChecks(): Method {
  return {
    id: "linear-logistic-regression",
    title: "Linear and logistic regression: estimates, intervals, robust and clustered variance",
    functions: ["linearRegression", "logisticRegression"],
    notes: [
      "Robust variances are sums of squared score shares, by row or by cluster, without a small-sample factor.",
      "The certified figures of the badly conditioned example are brought to the units of the columns used.",
    ],
    examples: [longley(), births(), doses(), earnings()],
  };
}

function termColumns(): Example {
  const x = numbers("x", [0.5, 3, 5, 9]);
  const knots = [1, 2, 4, 7];
  const columns = (terms: Parameters<typeof modelMatrix>[1]) =>
    modelMatrix([x], terms).columns.flatMap(({ values }) => [...values]);
  const number = numberTerm("x");
  const period = periodTerm("x", { cuts: [3], labels: ["early", "late"] });
  const rounding: Tolerance = { relative: 1e-14, absolute: 0 };
  return {
    title: "Four values, knots at 1, 2, 4 and 7, and a cut at 3 (constructed)",
    fromMemory: false,
    reference: REFERENCES.closed,
    checks: [
      seriesCheck("Curve at 5", curveBasis(knots, 5), [5, 62 / 36, (27 - 5 / 3) / 36], rounding),
      seriesCheck(
        "Columns of the curve",
        columns([curveTerm("x", { knots })]).slice(4, 7),
        [0, 8 / 36, 62 / 36],
        rounding,
      ),
      seriesCheck("Column of the period", columns([period]), [0, 0, 1, 1], EXACT),
      seriesCheck(
        "Column of the interaction",
        columns([interactionTerm(number, period)]),
        [0, 0, 5, 9],
        EXACT,
      ),
    ],
  };
}

function longley(): Example {
  const record = referenceRecord("22_linear", "linear.longley");
  const rows = referenceRows("longley.csv");
  const fields = ["GNP.deflator", "GNP", "Unemployed", "Armed.Forces", "Population", "Year"];
  const fit = answered(
    linearRegression(
      { outcome: numberColumn(rows, "Employed") },
      modelMatrix(
        fields.map((field) => fileNumbers(rows, field)),
        fields.map((field) => numberTerm(field)),
      ),
    ),
  );
  const tolerance = toleranceOf(record);
  return {
    title: "Employment in 16 years, columns that hardly differ (Longley 1967)",
    printedIn: "certified coefficients, Statistical Reference Datasets of the NIST",
    fromMemory: record.valueFromMemory,
    reference: REFERENCES.base,
    checks: [
      seriesCheck("Coefficients", estimatesOf(fit), record.expected.coef, tolerance),
      seriesCheck("Coefficients as certified", estimatesOf(fit), record.published.figures, {
        relative: 1e-9,
        absolute: 0,
      }),
      valueCheck("Residual standard deviation", fit.residualDeviation, record.expected.residualSd, tolerance),
      valueCheck(
        "Wald F",
        fit.wald.computed ? fit.wald.chiSquare / fit.wald.degreesOfFreedom : undefined,
        record.expected.fStatistic[0],
        tolerance,
      ),
    ],
  };
}

function births(): Example {
  const record = referenceRecord("09_logistic_propensity", "logistic.births");
  const rows = referenceRows("births.csv");
  const matrix = modelMatrix(
    [...["hyp", "gestwks", "matage"].map((field) => fileNumbers(rows, field)), fileLevels(rows, "sex")],
    [numberTerm("hyp"), numberTerm("gestwks"), numberTerm("matage"), categoryTerm("sex", { reference: "1" })],
  );
  const data = { outcome: numberColumn(rows, "lowbw") };
  const wald = answered(logisticRegression(data, matrix));
  const profile = answered(logisticRegression(data, matrix, { interval: "profile" }));
  const robust = answered(logisticRegression(data, matrix, { variance: "robust" }));
  const { expected } = record;
  const tolerance = toleranceOf(record);
  return {
    title: "Low birth weight among 490 births",
    fromMemory: false,
    reference: REFERENCES.base,
    checks: [
      seriesCheck("Coefficients, the constant first", estimatesOf(wald), expected.coef, tolerance),
      seriesCheck("Covariance", wald.covariance.flat(), expected.vcov.flat(), tolerance),
      seriesCheck("Robust covariance", robust.covariance.flat(), expected.hc0.flat(), tolerance),
      seriesCheck(
        "Profile limits",
        limitsOf(profile),
        [...expected.profileLower, ...expected.profileUpper],
        tolerance,
      ),
      valueCheck("Log-likelihood", wald.logLikelihood, expected.loglik, tolerance),
    ],
  };
}

function doses(): Example {
  const record = referenceRecord("09_logistic_propensity", "logistic.grouped");
  const rows = referenceRows("beetles.csv");
  const [dose, all, dead] = ["dose", "n", "dead"].map((name) => numberColumn(rows, name)) as [
    number[],
    number[],
    number[],
  ];
  const fit = answered(
    logisticRegression(
      {
        outcome: [...dose.map(() => 1), ...dose.map(() => 0)],
        weight: { kind: "copies", values: [...dead, ...all.map((count, at) => count - (dead[at] ?? 0))] },
      },
      modelMatrix([numbers("dose", [...dose, ...dose])], [numberTerm("dose")]),
    ),
  );
  return {
    title: "Eight doses, counts as copies (Bliss)",
    printedIn: "Dobson, Introduction to Generalized Linear Models",
    fromMemory: true,
    reference: REFERENCES.base,
    checks: [
      valueCheck("Constant", estimatesOf(fit)[0], record.expected.coef[0], toleranceOf(record), {
        figure: -60.72,
        decimals: 2,
      }),
      valueCheck("Slope", estimatesOf(fit)[1], record.expected.coef[1], toleranceOf(record), {
        figure: 34.27,
        decimals: 2,
      }),
    ],
  };
}

function earnings(): Example {
  const rows = referenceRows("lalonde.csv");
  const outcome = numberColumn(rows, "re78");
  const cluster = { codes: numberColumn(rows, "educ"), word: "school" };
  const weight = { kind: "sampling", values: rows.map((_, at) => 1 + ((at + 1) % 5) / 2) } as const;
  const table = [
    ...["treat", "age", "educ", "married"].map((field) => fileNumbers(rows, field)),
    fileLevels(rows, "race"),
  ];
  const [treat, age, educ, married] = ["treat", "age", "educ", "married"].map((field) =>
    numberTerm(field),
  ) as [
    ReturnType<typeof numberTerm>,
    ReturnType<typeof numberTerm>,
    ReturnType<typeof numberTerm>,
    ReturnType<typeof numberTerm>,
  ];
  const race = categoryTerm("race", { reference: "black" });
  const linear = modelMatrix(table, [treat, age, educ, race, married]);
  const logistic = modelMatrix(table, [treat, age, married]);
  const earned = outcome.map((sum) => (sum > 0 ? 1 : 0));
  const record = referenceRecord("22_linear", "linear.lalonde");
  const odds = referenceRecord("22_linear", "logistic.lalonde");
  const tolerance = toleranceOf(record);
  const forms = [
    { words: "", extra: {}, part: "plain" },
    { words: ", sampling weights", extra: { weight }, part: "weighted" },
  ] as const;
  return {
    title: "Earnings of 614 people, clustered by years of schooling",
    fromMemory: false,
    reference: REFERENCES.base,
    checks: forms.flatMap(({ words, extra, part }): Check[] => {
      const mean = answered(linearRegression({ outcome, cluster, ...extra }, linear));
      const chance = answered(logisticRegression({ outcome: earned, cluster, ...extra }, logistic));
      const { [part]: theirs } = record.expected;
      const { [part]: theirOdds } = odds.expected;
      return [
        seriesCheck(`Coefficients of the mean${words}`, estimatesOf(mean), theirs.coef, tolerance),
        seriesCheck(
          `Clustered covariance${words}`,
          mean.covariance.flat(),
          theirs.clustered.flat(),
          tolerance,
        ),
        seriesCheck(`Log odds of earning${words}`, estimatesOf(chance), theirOdds.coef, tolerance),
        seriesCheck(
          `Clustered covariance of log odds${words}`,
          chance.covariance.flat(),
          theirOdds.clustered.flat(),
          tolerance,
        ),
      ];
    }),
  };
}
