import { describe, expect, it } from "vitest";
import type { Column } from "../../src/base/column.ts";
import { type LogisticOptions, logisticRegression } from "../../src/regression/logistic-regression.ts";
import { modelMatrix } from "../../src/regression/model-terms.ts";
import type { OutcomeColumns } from "../../src/regression/outcome-rows.ts";
import { categoryTerm } from "../../src/regression/term-category.ts";
import { numberTerm } from "../../src/regression/term-number.ts";
import type { TermPlan } from "../../src/regression/term-plan.ts";
import {
  expectAllRelative,
  expectPrinted,
  expectRelative,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../reference/record.ts";
import { fileLevels, fileNumbers, numbers } from "./some-table.ts";

function fitted(
  data: OutcomeColumns,
  table: readonly Column[],
  terms: readonly TermPlan[],
  options: LogisticOptions = {},
) {
  const answer = logisticRegression(data, modelMatrix(table, terms), options);
  if (!answer.computed) throw new Error(answer.because);
  return answer;
}

type Fit = ReturnType<typeof fitted>;
const coefficients = ({ columns }: Fit) =>
  columns.map(({ coefficient }) => (coefficient.computed ? coefficient : null));
const estimates = (fit: Fit) => coefficients(fit).map((one) => one?.estimate ?? null);

const births = referenceRows("births.csv");
const birthTable = ["hyp", "gestwks", "matage"].map((field) => fileNumbers(births, field));
const sex = fileLevels(births, "sex");
const birthTerms = [
  numberTerm("hyp"),
  numberTerm("gestwks"),
  numberTerm("matage"),
  categoryTerm("sex", { reference: "1" }),
];
const lowWeight = { outcome: numberColumn(births, "lowbw") };

describe("logisticRegression() against reference numbers", () => {
  const { expected } = referenceRecord("09_logistic_propensity", "logistic.births");
  const table = [...birthTable, sex];

  it("meets estimates, covariance and likelihood, and counts what it lost", () => {
    const fit = fitted(lowWeight, table, birthTerms);
    expect(fit.rows).toBe(expected.n);
    expect(fit.lost).toEqual([{ term: "gestwks", reason: "not recorded", rows: 10 }]);
    expectAllRelative(estimates(fit), expected.coef, 1e-8);
    fit.covariance.forEach((row, at) => {
      expectAllRelative([...row], expected.vcov[at], 1e-8);
    });
    expectRelative(fit.logLikelihood, expected.loglik, 1e-8);
    expectRelative(fit.nullLogLikelihood, -expected.nullDeviance / 2, 1e-8);
    if (!fit.likelihoodRatio.computed) throw new Error(fit.likelihoodRatio.because);
    expectRelative(fit.likelihoodRatio.chiSquare, expected.nullDeviance - expected.deviance, 1e-8);
  });

  it("meets the robust covariance", () => {
    const fit = fitted(lowWeight, table, birthTerms, { variance: "robust" });
    fit.covariance.forEach((row, at) => {
      expectAllRelative([...row], expected.hc0[at], 1e-8);
    });
  });

  it("meets profile limits of every coefficient, the constant included", () => {
    const fit = fitted(lowWeight, table, birthTerms, { interval: "profile" });
    const found = coefficients(fit);
    expectAllRelative(
      found.map((one) => one?.lower ?? null),
      expected.profileLower,
      1e-8,
    );
    expectAllRelative(
      found.map((one) => one?.upper ?? null),
      expected.profileUpper,
      1e-8,
    );
    expect(fit.terms.every(({ likelihoodRatio }) => likelihoodRatio.computed)).toBe(true);
  });

  it("reads grouped counts as copies (published: Dobson, from memory)", () => {
    const record = referenceRecord("09_logistic_propensity", "logistic.grouped");
    const rows = referenceRows("beetles.csv");
    const dose = numberColumn(rows, "dose");
    const dead = numberColumn(rows, "dead");
    const all = numberColumn(rows, "n");
    const data: OutcomeColumns = {
      outcome: [...dose.map(() => 1), ...dose.map(() => 0)],
      weight: { kind: "copies", values: [...dead, ...dead.map((count, at) => (all[at] ?? 0) - count)] },
    };
    const fit = fitted(data, [numbers("dose", [...dose, ...dose])], [numberTerm("dose")]);
    expectAllRelative(estimates(fit), record.expected.coef, 1e-8);
    fit.covariance.forEach((row, at) => {
      expectAllRelative([...row], record.expected.vcov[at], 1e-8);
    });
    expectPrinted([estimates(fit)[1]], [record.published.figures[""]], 2);
    const saturated = dead.reduce((sum, count, at) => {
      const share = count / (all[at] ?? 1);
      return sum + (share < 1 ? count * Math.log(share) + ((all[at] ?? 0) - count) * Math.log(1 - share) : 0);
    }, 0);
    expectRelative(2 * (saturated - fit.logLikelihood), record.expected.deviance, 1e-8);
  });

  it("meets clustered and weighted variances", () => {
    const record = referenceRecord("22_linear", "logistic.lalonde");
    const rows = referenceRows("lalonde.csv");
    const outcome = numberColumn(rows, "re78").map((earned) => (earned > 0 ? 1 : 0));
    const cluster = { codes: numberColumn(rows, "educ"), word: "school" };
    const table = ["treat", "age", "married"].map((field) => fileNumbers(rows, field));
    const terms = ["treat", "age", "married"].map((field) => numberTerm(field));
    const weight = { kind: "sampling", values: rows.map((_, at) => 1 + ((at + 1) % 5) / 2) } as const;
    const forms = [
      { data: { outcome, cluster }, options: {}, theirs: record.expected.plain, part: "clustered" },
      { data: { outcome }, options: {}, theirs: record.expected.plain, part: "modelVcov" },
      { data: { outcome, weight }, options: {}, theirs: record.expected.weighted, part: "hc0" },
      {
        data: { outcome, weight, cluster },
        options: {},
        theirs: record.expected.weighted,
        part: "clustered",
      },
    ];
    for (const { data, options, theirs, part } of forms) {
      const fit = fitted(data, table, terms, options);
      expectAllRelative(estimates(fit), theirs.coef, 1e-8);
      fit.covariance.forEach((row, at) => {
        expectAllRelative([...row], theirs[part][at], 1e-8);
      });
    }
    const { settings } = fitted({ outcome, cluster }, table, terms);
    expect(settings).toMatchObject({
      variance: "clustered",
      clusters: { word: "school", count: record.expected.plain.clusters },
      degreesOfFreedom: record.expected.plain.clusters - 1,
    });
  });
});

describe("logisticRegression() under separation", () => {
  const { expected } = referenceRecord("09_logistic_propensity", "firth.endometrial");
  const rows = referenceRows("endometrial.csv");
  const table = ["NV", "PI", "EH"].map((field) => fileNumbers(rows, field));
  const terms = ["NV", "PI", "EH"].map((field) => numberTerm(field));
  const fit = fitted({ outcome: numberColumn(rows, "HG") }, table, terms);

  it("names the column, tests it and gives the one limit that exists", () => {
    const [, neovasculation] = fit.columns;
    expect(neovasculation?.coefficient).toMatchObject({ computed: false, code: "separation" });
    expect(neovasculation?.separation).toMatchObject({
      tends: "up",
      limit: { computed: true, side: "lower" },
    });
    const limit = neovasculation?.separation?.limit;
    expect(limit?.computed && limit.value).toBeGreaterThan(0);
  });

  it("carries the other coefficients to their limits", () => {
    expectAllRelative(
      estimates(fit),
      [expected.mlOthersAtLimit[0], null, ...expected.mlOthersAtLimit.slice(1)],
      1e-7,
    );
  });
});
