import { coxRegression } from "../../../src/regression/cox-regression.ts";
import type { CoxColumn } from "../../../src/regression/cox-result.ts";
import { type FrailtyOptions, frailtyRegression } from "../../../src/regression/frailty-regression.ts";
import { hazardRatiosWithinBetween } from "../../../src/regression/hazard-ratios-within-between.ts";
import { medianHazardRatio } from "../../../src/regression/median-hazard-ratio.ts";
import { withinBetween } from "../../../src/regression/within-between.ts";
import { referenceRecord } from "../../../tests/reference/reference-files.ts";
import { EXACT, type Tolerance } from "../../../tests/reference/tolerance.ts";
import { type CoxExample, kidneyByPatient, lung } from "../../../tests/regression/cox-examples.ts";
import { type Check, type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered } from "../curves.ts";
import { REFERENCES } from "../references.ts";

const CLOSE: Tolerance = { relative: 1e-8, absolute: 0 };
const ROUNDING: Tolerance = { relative: 1e-12, absolute: 0 };

/** What surgeons or patients have in common: frailty, the split of a column, and variances between few of them. */
export function frailtyChecks(): Method {
  return {
    id: "frailty",
    title: "Clusters in a hazard model: shared frailty, within and between, few clusters",
    functions: [
      "frailtyRegression",
      "medianHazardRatio",
      "hazardRatiosWithinBetween",
      "withinBetween",
      "coxRegression",
    ],
    notes: [
      "The reference takes its standard errors from the whole matrix between frailties; its default beyond five clusters takes that matrix as diagonal, which makes them 2 % larger here, and it finds the variance of the frailty to about four figures: the script finds it where the slope of the likelihood is 0.",
      "The correction for few clusters takes each cluster's own part of the information out of it before its score is squared.",
    ],
    examples: [catheters(), lateCatheters(), noFrailty(), medians(), fewInstitutions(), split()],
  };
}

const logRatios = (columns: readonly CoxColumn[]) =>
  columns.map(({ hazardRatio }) => answered(hazardRatio).logRatio);

function catheters(): Example {
  const { expected } = referenceRecord("23_frailty", "frailty.kidney_full");
  return {
    title: "Infection at kidney catheters, two for each of 38 patients (McGilchrist and Aisbett 1991)",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: (["efron", "breslow"] as const).flatMap((sameDay) =>
      fitChecks(kidneyByPatient(), { sameDay }, expected[sameDay], `, ${sameDay}`),
    ),
  };
}

function lateCatheters(): Example {
  return {
    title: "The same in two strata, every fifth row with a late entry made up",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: fitChecks(
      kidneyByPatient({ late: true }),
      {},
      referenceRecord("23_frailty", "frailty.kidney_strata_late").expected,
    ),
  };
}

/** A fit as the reference records write it. */
interface FrailtyReference {
  readonly theta: number;
  readonly integratedLoglik: number;
  readonly coef: readonly number[];
  readonly vcov: readonly (readonly number[])[];
  readonly frailties: readonly number[];
  readonly lrFrailty: number;
}

function fitChecks(
  { columns, matrix }: CoxExample,
  options: FrailtyOptions,
  theirs: FrailtyReference,
  words = "",
): Check[] {
  const fit = answered(frailtyRegression(columns, matrix, options));
  return [
    valueCheck(`Variance of the frailty${words}`, fit.variance.estimate, theirs.theta, CLOSE),
    valueCheck(`Integrated log-likelihood${words}`, fit.logLikelihood, theirs.integratedLoglik, CLOSE),
    valueCheck(`Likelihood ratio${words}`, fit.varianceTest.chiSquare, theirs.lrFrailty, CLOSE),
    seriesCheck(`Log ratios${words}`, logRatios(fit.columns), theirs.coef, CLOSE),
    seriesCheck(`Covariance${words}`, fit.covariance.flat(), theirs.vcov.flat(), CLOSE),
    seriesCheck(`Frailties${words}`, fit.frailties.frailty, theirs.frailties, CLOSE),
  ];
}

function noFrailty(): Example {
  const { expected } = referenceRecord("05_cox", "cox.frailty_zero");
  const { columns, matrix } = kidneyByPatient({ withDisease: true });
  const fit = answered(frailtyRegression(columns, matrix));
  return {
    title: "The same beside the disease, which leaves no frailty",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: [
      valueCheck("Variance of the frailty, on the boundary", fit.variance.estimate, 0, EXACT),
      seriesCheck("Log ratios, as without a frailty", logRatios(fit.columns), expected.coefPlainCox, CLOSE),
    ],
  };
}

function medians(): Example {
  return {
    title: "Median hazard ratio at variances 0, 1 and 2",
    fromMemory: false,
    reference: REFERENCES.closed,
    checks: [
      seriesCheck(
        "Upper quartile of F on 2/θ and 2/θ",
        [0, 1, 2].map((theta) => medianHazardRatio(theta)),
        [1, 3, 3 + 2 * Math.SQRT2],
        ROUNDING,
      ),
    ],
  };
}

function fewInstitutions(): Example {
  const { expected } = referenceRecord("23_frailty", "cox.lung_over_the_rest");
  const { columns, matrix } = lung({ clustered: true });
  const fit = answered(coxRegression(columns, matrix, { sameDay: "breslow", smallSample: "shares" }));
  return {
    title: "Lung cancer in 18 institutions, each corrected for its own part",
    fromMemory: false,
    reference: REFERENCES.written,
    checks: [
      seriesCheck("Corrected clustered covariance", fit.covariance.flat(), expected.vcov.flat(), CLOSE),
      valueCheck("Institutions", fit.settings.clusters[0], expected.clusters, EXACT),
    ],
  };
}

function split(): Example {
  const { expected } = referenceRecord("23_frailty", "cox.lung_within_between");
  const { columns, matrix } = lung({ clustered: true });
  const performance = { ...matrix.columns[2]!, name: "performance" };
  const alone = {
    ...matrix,
    columns: [performance],
    terms: [{ ...matrix.terms[2]!, name: "performance", from: 0 }],
  };
  const ratios = answered(hazardRatiosWithinBetween(columns, alone, { term: "performance" }));
  const four = { name: "step", values: Float64Array.of(1, 0, 1, 1) };
  const parts = withinBetween(four, { codes: [0, 0, 1, 1], word: "surgeon" });
  return {
    title: "Performance of the same patients, within and between institutions",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: [
      seriesCheck(
        "Log ratios within and between",
        logRatios([ratios.within, ratios.between]),
        expected.coef,
        CLOSE,
      ),
      seriesCheck("Clustered covariance", ratios.fits.split.covariance.flat(), expected.vcov.flat(), CLOSE),
      valueCheck(
        "Difference, chi-square",
        answered(ratios.difference).chiSquare,
        expected.differenceChisq,
        CLOSE,
      ),
      seriesCheck(
        "Four values, within and between (by hand)",
        [...parts.within.values, ...parts.between.values],
        [0.5, -0.5, 0, 0, 0.5, 0.5, 1, 1],
        EXACT,
      ),
    ],
  };
}
