import { TIME_UNITS } from "../../../src/base/time-unit.ts";
import { coxConcordance } from "../../../src/regression/cox-concordance.ts";
import { effectOverTime } from "../../../src/regression/effect-over-time.ts";
import { predictedCurves } from "../../../src/regression/predicted-curves.ts";
import { proportionalHazardsCheck } from "../../../src/regression/proportional-hazards-check.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { gammopathyByAge, heart, lung } from "../../../tests/regression/cox-examples.ts";
import { type Example, seriesCheck, valueCheck } from "../check.ts";
import { answered } from "../curves.ts";
import { REFERENCES } from "../references.ts";

import { CLOSE, fitChecks, fitted, record } from "./hazard-fits.ts";

export function lungCancer(): Example {
  const reference = record("cox.lung");
  const { expected } = reference;
  const tolerance = toleranceOf(reference);
  const { columns, matrix } = lung();
  const data = { ...columns, timeUnit: TIME_UNITS.year };
  const fit = fitted({ columns: data, matrix });
  const clustered = fitted(lung({ clustered: true }));
  const { newdata, times, survival, lower, upper } = expected.prediction;
  const at = [0, 1].map((k) => ({
    label: `${k + 1}`,
    values: { age: newdata.age[k], sex: newdata.sex[k], ecog: newdata.ecog[k] },
  }));
  const { curves } = answered(predictedCurves(data, matrix, fit, { at, years: times, scale: "log" }));
  const values = curves.map(({ atYears }) => atYears.map((value) => answered(value)));
  const byCurve = (table: number[][]) => [0, 1].flatMap((k) => table.map((line) => line[k]));
  const agreement = answered(coxConcordance(data, matrix, fit));
  const diagonal = (own: readonly (readonly number[])[]) => own.map((line, j) => line[j]);
  const course = answered(effectOverTime(data, matrix, fit, { column: "sex" }));
  const scales = [
    ["km", "survival"],
    ["identity", "time"],
    ["log", "logTime"],
    ["rank", "rank"],
  ] as const;
  const zph = record("cox.lung_zph").expected;
  return {
    title: "Lung cancer: age, sex and performance in 18 institutions",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: [
      ...fitChecks("efron", fit, expected.efron, tolerance),
      ...fitChecks(
        "stratified by sex",
        fitted(lung({ stratified: true })),
        expected.stratifiedBySex,
        tolerance,
      ),
      seriesCheck(
        "Variances between institutions",
        diagonal(clustered.covariance),
        diagonal(expected.clusteredVcovEfron),
        tolerance,
      ),
      seriesCheck(
        "Variances between rows",
        diagonal(fitted(lung(), { variance: "robust" }).covariance),
        diagonal(expected.rowRobustVcovEfron),
        tolerance,
      ),
      seriesCheck(
        "Robust score and clustered Wald statistic",
        [answered(clustered.robustScore).chiSquare, answered(clustered.wald).chiSquare],
        [expected.robustScoreTest, expected.clusteredWald],
        tolerance,
      ),
      seriesCheck(
        "Concordance and its standard error",
        [agreement.concordance, agreement.standardError],
        [expected.concordance.concordance, expected.concordance.se],
        tolerance,
      ),
      seriesCheck(
        "Predicted survival of two persons",
        values.flatMap((own) => own.map((value) => value.survival)),
        byCurve(survival),
        tolerance,
      ),
      seriesCheck(
        "Its limits on the log scale",
        values.flatMap((own) => [...own.map((value) => value.lower), ...own.map((value) => value.upper)]),
        [0, 1].flatMap((k) => [lower, upper].flatMap((table: number[][]) => table.map((line) => line[k]))),
        tolerance,
      ),
      ...scales.map(([name, scale]) => {
        const { terms, all } = answered(proportionalHazardsCheck(data, matrix, fit, { scale }));
        return seriesCheck(
          `Change of ratios on the scale ${scale}: chi-square and p of each term and of all`,
          [...terms.map(({ test }) => answered(test)), answered(all)].flatMap(({ chiSquare, p }) => [
            chiSquare,
            p,
          ]),
          zph.scoreTest[name].chisq.flatMap((value: number, k: number) => [value, zph.scoreTest[name].p[k]]),
          CLOSE,
        );
      }),
      valueCheck(
        "Ratio beside its smoothed course",
        course.average,
        expected.efron.hazardRatio[1],
        tolerance,
      ),
    ],
  };
}

export function transplants(): Example {
  const reference = record("cox.heart_counting");
  const { expected } = reference;
  const clustered = fitted(heart(["age", "surgery", "transplant"], { clustered: true }));
  const { columns, matrix } = heart(["age", "year", "surgery", "transplant"]);
  const fit = fitted({ columns, matrix });
  const { terms, all } = answered(proportionalHazardsCheck(columns, matrix, fit));
  const agreement = answered(coxConcordance(columns, matrix, fit));
  return {
    title: "Heart transplants: rows cut at the transplant, clusters are persons",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: [
      ...fitChecks("efron", fit, expected.main, toleranceOf(reference)),
      ...fitChecks("clustered by person", clustered, expected.clustered, toleranceOf(reference)),
      seriesCheck(
        "Change of ratios: chi-square of each term and of all",
        [...terms.map(({ test }) => answered(test)), answered(all)].map(({ chiSquare }) => chiSquare),
        expected.zph.km.chisq,
        toleranceOf(reference),
      ),
      seriesCheck(
        "Concordance and its standard error",
        [agreement.concordance, agreement.standardError],
        [expected.concordance.concordance, expected.concordance.se],
        toleranceOf(reference),
      ),
    ],
  };
}

export function ageAsTime(): Example {
  const reference = record("cox.delayed_entry_weighted");
  const { expected } = reference;
  return {
    title: "Gammopathy with age as time: late entry, sampling weights",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: [
      ...fitChecks("unweighted", fitted(gammopathyByAge(false)), expected.unweighted, toleranceOf(reference)),
      ...fitChecks(
        "weighted, efron",
        fitted(gammopathyByAge(true)),
        expected.weightedEfron,
        toleranceOf(reference),
      ),
      ...fitChecks(
        "weighted, breslow",
        fitted(gammopathyByAge(true), { sameDay: "breslow" }),
        expected.weightedBreslow,
        toleranceOf(reference),
      ),
    ],
  };
}
