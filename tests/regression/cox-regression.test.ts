import { describe, expect, it } from "vitest";
import type { CoxOptions } from "../../src/regression/cox-options.ts";
import type { CoxFit } from "../../src/regression/cox-result.ts";
import { expectAllRelative, expectPrinted, expectRelative, referenceRecord } from "../reference/record.ts";
import {
  type CoxExample,
  collinear,
  fitted,
  freireich,
  gammopathyByAge,
  heart,
  kidney,
  larynx,
  leukaemia,
  lung,
  matchedSets,
  monotone,
  present,
  sixRows,
  veteranPeriods,
} from "./cox-examples.ts";

const record = (id: string) => referenceRecord("05_cox", id);

/** A fit as the reference records write it. */
interface Expected {
  readonly coef: number | number[];
  readonly vcov: number[][];
  readonly loglikNull: number;
  readonly loglik: number;
  readonly lrtest: number[];
  readonly scoretest: number[];
  readonly n: number;
  readonly events: number;
}

function logRatios({ columns }: CoxFit): number[] {
  return columns.flatMap(({ hazardRatio }) => (hazardRatio.computed ? [hazardRatio.logRatio] : []));
}

function expectFit(fit: CoxFit, expected: Expected, relative: number): void {
  expect(fit.fit.converged).toBe(true);
  expectAllRelative(logRatios(fit), [expected.coef].flat(), relative);
  expectMatrix(fit.covariance, expected.vcov, relative);
  expectRelative(fit.nullLogLikelihood, expected.loglikNull, relative);
  expectRelative(fit.logLikelihood, expected.loglik, relative);
  for (const [test, theirs] of [
    [fit.likelihoodRatio, expected.lrtest],
    [fit.score, expected.scoretest],
  ] as const) {
    // R gives them; but twice the weights would give twice the chi-square.
    if (fit.settings.weights === "sampling") {
      expect(test).toMatchObject({ code: "sampling-weights" });
      continue;
    }
    const { chiSquare, degreesOfFreedom, p } = present(test);
    expectAllRelative([chiSquare, degreesOfFreedom, p], theirs, relative);
  }
  expect(fit.rows).toBe(expected.n);
  expect(fit.events).toBe(expected.events);
}

/** Off the diagonal numbers may be small by cancellation, so distance is measured by the standard errors. */
function expectMatrix(ours: readonly (readonly number[])[], theirs: number[][], relative: number): void {
  expect(ours.length).toBe(theirs.length);
  theirs.forEach((line, j) => {
    line.forEach((value, k) => {
      const size = Math.sqrt((theirs[j]?.[j] ?? 0) * (theirs[k]?.[k] ?? 0));
      expect(Math.abs((ours[j]?.[k] ?? Number.NaN) - value), `${j}, ${k}`).toBeLessThanOrEqual(
        relative * size,
      );
    });
  });
}

const FITS: readonly (readonly [string, string, CoxExample, CoxOptions, number])[] = [
  ["cox.freireich_ties", "breslow", freireich(), { sameDay: "breslow" }, 1e-9],
  ["cox.freireich_ties", "efron", freireich(), {}, 1e-9],
  ["cox.freireich_ties", "discreteExact", freireich(), { sameDay: "exact" }, 1e-9],
  ["cox.freireich_pairs", "", freireich(true), {}, 1e-9],
  ["cox.larynx", "breslow", larynx(), { sameDay: "breslow" }, 1e-9],
  ["cox.larynx", "efron", larynx(), {}, 1e-9],
  ["cox.larynx", "discreteExact", larynx(), { sameDay: "exact" }, 1e-9],
  ["cox.larynx", "interactionBreslow", larynx(true), { sameDay: "breslow" }, 1e-9],
  ["cox.lung", "efron", lung(), {}, 1e-8],
  ["cox.lung", "breslow", lung(), { sameDay: "breslow" }, 1e-8],
  ["cox.lung", "stratifiedBySex", lung({ stratified: true }), {}, 1e-8],
  ["cox.heart_counting", "main", heart(["age", "year", "surgery", "transplant"]), {}, 1e-8],
  [
    "cox.heart_counting",
    "interaction",
    heart(["age", "surgery", "transplant"], { products: true }),
    { sameDay: "breslow" },
    1e-8,
  ],
  ["cox.heart_counting", "clustered", heart(["age", "surgery", "transplant"], { clustered: true }), {}, 1e-8],
  ["cox.delayed_entry_weighted", "unweighted", gammopathyByAge(false), {}, 1e-8],
  ["cox.delayed_entry_weighted", "weightedEfron", gammopathyByAge(true), {}, 1e-8],
  ["cox.delayed_entry_weighted", "weightedBreslow", gammopathyByAge(true), { sameDay: "breslow" }, 1e-8],
  ["cox.veteran_steps", "", veteranPeriods(), {}, 1e-8],
  ["cox.gamma_frailty_kidney", "noFrailty", kidney(false), {}, 1e-8],
  ["clogit.infert", "", matchedSets(), { sameDay: "exact" }, 1e-9],
];

describe("coxRegression() against reference values (R survival)", () => {
  it.each(FITS)("meets %s %s", (id, part, example, options, relative) => {
    const { expected } = record(id);
    expectFit(fitted(example, options), part === "" ? expected : expected[part], relative);
  });

  it("meets the variances over rows and clusters, the robust score test and the clustered Wald statistic of cox.lung", () => {
    const { expected } = record("cox.lung");
    const clustered = fitted(lung({ clustered: true }));
    expectMatrix(clustered.covariance, expected.clusteredVcovEfron, 1e-8);
    expectMatrix(clustered.modelCovariance, expected.efron.vcov, 1e-8);
    expect(clustered.settings).toMatchObject({
      clusteredBy: ["institution"],
      clusters: [18],
      degreesOfFreedom: 17,
    });
    if (clustered.robustScore === undefined) throw new Error("no robust score");
    expectRelative(present(clustered.robustScore).chiSquare, expected.robustScoreTest, 1e-8);
    expectRelative(present(clustered.wald).chiSquare, expected.clusteredWald, 1e-8);
    const breslow = fitted(lung({ clustered: true }), { sameDay: "breslow" });
    expectMatrix(breslow.covariance, expected.clusteredVcovBreslow, 1e-8);
    expectMatrix(fitted(lung(), { variance: "robust" }).covariance, expected.rowRobustVcovEfron, 1e-8);
  });

  it("meets the model's variances beside robust ones, with weights and with cut rows", () => {
    const heartFit = fitted(heart(["age", "surgery", "transplant"], { clustered: true }));
    expectMatrix(heartFit.modelCovariance, record("cox.heart_counting").expected.clustered.naiveVcov, 1e-8);
    const { expected } = record("cox.delayed_entry_weighted");
    const weighted = fitted(gammopathyByAge(true));
    expectMatrix(weighted.modelCovariance, expected.weightedEfron.naiveVcov, 1e-8);
  });

  it("meets the local tests of the stages of cox.larynx", () => {
    const { expected, published } = record("cox.larynx");
    const fit = fitted(larynx(), { sameDay: "breslow" });
    const stage = present(fit.terms[0]?.wald ?? fit.wald);
    expectAllRelative(
      [stage.chiSquare, stage.degreesOfFreedom, stage.p],
      [expected.waldStage.chisq, expected.waldStage.df, expected.waldStage.p],
      1e-9,
    );
    expectPrinted(logRatios(fit), published.figures.coef, 4);
  });

  it("repeats rows by whole-number weights under breslow, and not under efron (cox.frequency_weights)", () => {
    const { expected } = record("cox.frequency_weights");
    const coefficient = (repeated: boolean, sameDay: "breslow" | "efron") =>
      logRatios(fitted(leukaemia(repeated), { sameDay }))[0];
    expectRelative(coefficient(false, "breslow"), expected.breslowWeighted, 1e-9);
    expectRelative(coefficient(true, "breslow"), expected.breslowRepeated, 1e-9);
    expectRelative(coefficient(false, "efron"), expected.efronWeighted, 1e-9);
    expectRelative(coefficient(true, "efron"), expected.efronRepeated, 1e-9);
  });

  it("finds the closed forms of six rows (Therneau and Grambsch 2000, appendix E)", () => {
    const breslow = fitted(sixRows(), { sameDay: "breslow" });
    expectRelative(logRatios(breslow)[0], Math.log((3 + Math.sqrt(33)) / 2), 1e-12);
    const { expected } = record("cox.test1");
    for (const sameDay of ["breslow", "efron"] as const) {
      const fit = fitted(sixRows(), { sameDay });
      const theirs = expected[sameDay];
      expectRelative(logRatios(fit)[0], theirs.coef, 1e-9);
      expectRelative(1 / (fit.covariance[0]?.[0] ?? 0), theirs.info, 1e-9);
      expectAllRelative([fit.nullLogLikelihood, fit.logLikelihood], theirs.loglik, 1e-9);
      expectRelative(present(fit.score).chiSquare, theirs.score, 1e-9);
    }
  });

  it("names collinear and constant columns and fits the rest (cox.collinear)", () => {
    const fit = fitted(collinear());
    const { coef } = record("cox.collinear").expected;
    expectAllRelative(logRatios(fit), [coef[0], coef[3]], 1e-7);
    expect(fit.columns.map(({ hazardRatio }) => (hazardRatio.computed ? "" : hazardRatio.code))).toEqual([
      "",
      "collinear",
      "constant",
      "",
    ]);
    expect(fit.columns[1]?.hazardRatio).toMatchObject({ because: expect.stringContaining('"age"') });
    expect(fit.parameters).toBe(2);
  });

  it("fits the kidney data beside the disease (cox.frailty_zero)", () => {
    expectAllRelative(
      logRatios(fitted(kidney(true))),
      record("cox.frailty_zero").expected.coefPlainCox,
      1e-4,
    );
  });
});

describe("coxRegression() where all events fall on one side", () => {
  it("names the separation with its likelihood-ratio p and one-sided limit (cox.monotone)", () => {
    const { expected } = record("cox.monotone");
    const fit = fitted(monotone());
    const [column] = fit.columns;
    expect(column?.hazardRatio).toMatchObject({
      computed: false,
      code: "separation",
      because: "not estimable: separation (one side has no event)",
    });
    expect(column?.separation?.ratioTends).toBe("up");
    expectRelative(fit.logLikelihood, expected.supremumLoglik, 1e-6);
    expectRelative(fit.nullLogLikelihood, expected.loglikNull, 1e-6);
    if (column?.separation === undefined) throw new Error("not separated");
    const test = present(column.separation.likelihoodRatio);
    expectRelative(test.chiSquare, expected.lrtest, 1e-6);
    expectRelative(test.p, expected.lrP, 1e-6);
    expectRelative(present(fit.score).chiSquare, expected.scoreTest, 1e-6);
    const limit = column?.separation?.limit;
    if (limit === undefined) throw new Error("no limit");
    expect(present(limit).side).toBe("lower");
    expectRelative(Math.log(present(limit).ratio), expected.profileLowerLimit95, 1e-6);
    expect(fit.wald).toMatchObject({ computed: false, code: "separation" });
  });

  it("finds the supremum −log 9 of six rows under the discrete likelihood (cox.test1, closed form)", () => {
    const fit = fitted(sixRows(), { sameDay: "exact" });
    expect(fit.columns[0]?.hazardRatio).toMatchObject({ computed: false, code: "separation" });
    expectRelative(fit.logLikelihood, -Math.log(9), 1e-7);
    expectRelative(fit.nullLogLikelihood, record("cox.test1").expected.discreteExact.loglikNull, 1e-9);
  });
});
