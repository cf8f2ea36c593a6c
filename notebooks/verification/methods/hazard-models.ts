import { TIME_UNITS } from "../../../src/base/time-unit.ts";
import { coxConcordance } from "../../../src/regression/cox-concordance.ts";
import type { CoxOptions } from "../../../src/regression/cox-options.ts";
import { coxProfileLimits } from "../../../src/regression/cox-profile-limits.ts";
import { coxRegression } from "../../../src/regression/cox-regression.ts";
import { coxResiduals } from "../../../src/regression/cox-residuals.ts";
import type { CoxColumn, CoxFit } from "../../../src/regression/cox-result.ts";
import { coxInfluence } from "../../../src/regression/cox-row-influence.ts";
import { effectOverTime } from "../../../src/regression/effect-over-time.ts";
import { hazardRatiosByPeriod } from "../../../src/regression/hazard-ratios-by-period.ts";
import { baselineHazard, predictedCurves } from "../../../src/regression/predicted-curves.ts";
import { proportionalHazardsCheck } from "../../../src/regression/proportional-hazards-check.ts";
import { asIfInGroup, standardisedCurves } from "../../../src/regression/standardised-curves.ts";
import { referenceRecord } from "../../../tests/reference/reference-files.ts";
import { type Tolerance, toleranceOf } from "../../../tests/reference/tolerance.ts";
import {
  type CoxExample,
  freireich,
  gammopathyByAge,
  heart,
  larynx,
  leukaemia,
  lung,
  matchedSets,
  monotone,
  sixRows,
  veteranPeriods,
  veteranTogether,
} from "../../../tests/regression/cox-examples.ts";
import { type Check, type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered, present } from "../curves.ts";
import { REFERENCES } from "../references.ts";

const record = (id: string) => referenceRecord("05_cox", id);
const CLOSE: Tolerance = { relative: 1e-8, absolute: 0 };
const CLOSED: Tolerance = { relative: 1e-12, absolute: 0 };

/** Proportional-hazards regression and what is made of a fit. */
export function hazardModelChecks(): Method {
  return {
    id: "hazard-models",
    title: "Proportional-hazards regression: ratios, tests, residuals, curves, change over time",
    functions: [
      "coxRegression",
      "coxProfileLimits",
      "coxResiduals",
      "coxInfluence",
      "coxConcordance",
      "baselineHazard",
      "predictedCurves",
      "standardisedCurves",
      "asIfInGroup",
      "proportionalHazardsCheck",
      "effectOverTime",
      "hazardRatiosByPeriod",
    ],
    notes: [
      "Weighted events of one tick under Efron's rule share their mean weight, on both sides; robust variances carry no small-sample factor.",
      "The check of proportional hazards is the score test with the information at each event, not the older approximation.",
    ],
    examples: [
      placebo(),
      pairs(),
      stages(),
      smallest(),
      lungCancer(),
      transplants(),
      ageAsTime(),
      copies(),
      periods(),
      noTop(),
      sets(),
      standardised(),
    ],
  };
}

function fitted({ columns, matrix }: CoxExample, options?: CoxOptions): CoxFit {
  return answered(coxRegression(columns, matrix, options));
}

function logRatios(columns: readonly CoxColumn[]): number[] {
  return columns.map(({ hazardRatio }) => answered(hazardRatio).logRatio);
}

/** One row each for coefficients, their covariance, the likelihoods and the two tests. */
function fitChecks(name: string, fit: CoxFit, theirs: FitReference, tolerance: Tolerance): Check[] {
  const diagonal = (matrix: readonly (readonly number[])[]) => matrix.map((line, at) => line[at]);
  return [
    seriesCheck(`Log ratios, ${name}`, logRatios(fit.columns), [theirs.coef].flat(), tolerance),
    seriesCheck(`Variances, ${name}`, diagonal(fit.covariance), diagonal(theirs.vcov), tolerance),
    seriesCheck(
      `Log-likelihoods at 0 and at the top, ${name}`,
      [fit.nullLogLikelihood, fit.logLikelihood],
      [theirs.loglikNull, theirs.loglik],
      tolerance,
    ),
    seriesCheck(
      `Likelihood-ratio and score test, ${name}`,
      [fit.likelihoodRatio, fit.score].flatMap((test) => [test.chiSquare, test.degreesOfFreedom, test.p]),
      [...theirs.lrtest, ...theirs.scoretest],
      tolerance,
    ),
  ];
}

interface FitReference {
  readonly coef: number | readonly number[];
  readonly vcov: readonly (readonly number[])[];
  readonly loglikNull: number;
  readonly loglik: number;
  readonly lrtest: readonly number[];
  readonly scoretest: readonly number[];
}

function placebo(): Example {
  const reference = record("cox.freireich_ties");
  const { expected, published } = reference;
  const rules = [
    ["efron", "efron", "efron"],
    ["breslow", "breslow", "breslow"],
    ["exact", "discreteExact", "discrete"],
  ] as const;
  const { columns, matrix } = freireich();
  const fit = fitted({ columns, matrix });
  const agreement = answered(coxConcordance(columns, matrix, fit));
  return {
    title: "6-MP against placebo, three rules for events on one day",
    printedIn: "Kleinbaum and Klein, and widely printed outputs for these data",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.survival,
    checks: [
      ...rules.flatMap(([sameDay, part, print]) => {
        const own = fitted({ columns, matrix }, { sameDay });
        const [ratio] = logRatios(own.columns);
        const printed = { figure: published.figures[print], decimals: 3 };
        return [
          valueCheck(
            `Log ratio, ${sameDay}, as printed`,
            ratio,
            expected[part].coef,
            toleranceOf(reference),
            printed,
          ),
          ...fitChecks(sameDay, own, expected[part], toleranceOf(reference)),
        ];
      }),
      seriesCheck(
        "Concordance and its standard error",
        [agreement.concordance, agreement.standardError],
        [expected.concordanceEfron.concordance, expected.concordanceEfron.se],
        toleranceOf(reference),
      ),
    ],
  };
}

function pairs(): Example {
  const reference = record("cox.freireich_pairs");
  const { columns, matrix } = freireich(true);
  const [profile] = answered(coxProfileLimits(columns, matrix)).columns;
  const { lower, upper } = answered(present(profile, "a profile").profile);
  // 18 of 21 pairs decide for one side: a binomial likelihood in p = ratio / (1 + ratio).
  const logLikelihood = (ratio: number) => 18 * Math.log(ratio / (1 + ratio)) - 3 * Math.log(1 + ratio);
  const fallen = [lower, upper].map((limit) => 2 * (logLikelihood(6) - logLikelihood(limit)));
  return {
    title: "6-MP against placebo within 21 pairs: a ratio of 18 to 3",
    fromMemory: false,
    reference: `${REFERENCES.survival}; limits: ${REFERENCES.closed}`,
    checks: [
      ...fitChecks(
        "stratified by pair",
        fitted({ columns, matrix }),
        reference.expected,
        toleranceOf(reference),
      ),
      seriesCheck(
        "Twice the fall of the binomial likelihood at both profile limits",
        fallen,
        [3.841_458_820_694_124, 3.841_458_820_694_124],
        CLOSE,
      ),
    ],
  };
}

function stages(): Example {
  const reference = record("cox.larynx");
  const { expected, published } = reference;
  const fit = fitted(larynx(), { sameDay: "breslow" });
  const stage = answered(fit.terms[0]?.wald);
  return {
    title: "Cancer of the larynx: stages I to IV and age",
    printedIn: "Klein and Moeschberger, example 8.2, table 8.1",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.survival,
    checks: [
      seriesCheck(
        "Log ratios, as printed",
        logRatios(fit.columns),
        expected.breslow.coef,
        toleranceOf(reference),
        {
          figures: published.figures.coef,
          decimals: 4,
        },
      ),
      ...fitChecks("breslow", fit, expected.breslow, toleranceOf(reference)),
      ...fitChecks("efron", fitted(larynx()), expected.efron, toleranceOf(reference)),
      ...fitChecks(
        "discrete",
        fitted(larynx(), { sameDay: "exact" }),
        expected.discreteExact,
        toleranceOf(reference),
      ),
      ...fitChecks(
        "with stage × age",
        fitted(larynx(true), { sameDay: "breslow" }),
        expected.interactionBreslow,
        toleranceOf(reference),
      ),
      seriesCheck(
        "Wald test of the three stages",
        [stage.chiSquare, stage.degreesOfFreedom, stage.p],
        [expected.waldStage.chisq, expected.waldStage.df, expected.waldStage.p],
        toleranceOf(reference),
      ),
    ],
  };
}

function smallest(): Example {
  const reference = record("cox.test1");
  const { columns, matrix } = sixRows();
  const data = { ...columns, timeUnit: TIME_UNITS.year };
  const checks = (["breslow", "efron"] as const).flatMap((sameDay) => {
    const theirs = reference.expected[sameDay];
    const fit = fitted({ columns: data, matrix }, { sameDay });
    const residuals = answered(coxResiduals(data, matrix, fit));
    const { change } = answered(coxInfluence(data, matrix, fit));
    const [curve] = answered(baselineHazard(data, matrix, fit, { years: theirs.basehaz0.time })).curves;
    const values = present(curve, "a curve").atYears.map((value) => answered(value));
    const series: readonly (readonly [string, readonly unknown[], readonly unknown[]])[] = [
      ["Martingale residuals", residuals.martingale, theirs.martingale],
      ["Deviance residuals", residuals.deviance, theirs.deviance],
      ["Score residuals", residuals.score[0] ?? [], theirs.scoreResid],
      [
        "Schoenfeld residuals but the last, which is 0",
        residuals.schoenfeld[0]?.slice(0, 3) ?? [],
        theirs.schoenfeld.slice(0, 3),
      ],
      ["Influence of each row", change[0] ?? [], theirs.dfbeta],
      ["Baseline hazard", values.map(({ cumulativeHazard }) => cumulativeHazard), theirs.basehaz0.hazard],
      ["Its standard errors", values.map(({ standardError }) => standardError), theirs.survivalAtX0.se],
    ];
    return [
      valueCheck(`Log ratio, ${sameDay}`, logRatios(fit.columns)[0], theirs.coef, toleranceOf(reference), {
        figure: reference.published.figures[sameDay],
        decimals: 6,
      }),
      ...series.map(([name, ours, others]) =>
        seriesCheck(`${name}, ${sameDay}`, ours, others, toleranceOf(reference)),
      ),
    ];
  });
  const [ratio] = logRatios(fitted({ columns, matrix }, { sameDay: "breslow" }).columns);
  return {
    title: "Six rows with closed-form answers",
    printedIn: "Therneau and Grambsch, Modeling Survival Data, appendix E",
    fromMemory: reference.valueFromMemory,
    reference: `${REFERENCES.survival}; log ratio under breslow: ${REFERENCES.closed}`,
    checks: [
      valueCheck("Log ratio log((3 + √33)/2)", ratio, Math.log((3 + Math.sqrt(33)) / 2), CLOSED),
      ...checks,
    ],
  };
}

function lungCancer(): Example {
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

function transplants(): Example {
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

function ageAsTime(): Example {
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

function copies(): Example {
  const reference = record("cox.frequency_weights");
  const { expected } = reference;
  const ours = (["breslow", "efron"] as const).flatMap((sameDay) =>
    [false, true].map((repeated) => logRatios(fitted(leukaemia(repeated), { sameDay }).columns)[0]),
  );
  return {
    title: "Whole-number weights against repeated rows",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: [
      seriesCheck(
        "Log ratio, breslow and efron, weighted and repeated",
        ours,
        [expected.breslowWeighted, expected.breslowRepeated, expected.efronWeighted, expected.efronRepeated],
        toleranceOf(reference),
      ),
    ],
  };
}

function periods(): Example {
  const reference = record("cox.veteran_steps");
  const { expected, published } = reference;
  const { columns, matrix } = veteranTogether();
  const byPeriod = answered(hazardRatiosByPeriod(columns, matrix, { term: "karno", cuts: [90, 180] }));
  return {
    title: "Lung cancer of veterans: an effect that fades, in three periods",
    printedIn: "a widely used tutorial on time-dependent effects with these data",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.survival,
    checks: [
      ...fitChecks("all columns", fitted(veteranPeriods()), expected, toleranceOf(reference)),
      seriesCheck(
        "Log ratios of karno by period",
        byPeriod.periods.flatMap((period) => logRatios(period.columns)),
        expected.coef.slice(2),
        toleranceOf(reference),
        { figures: published.figures, decimals: 6 },
      ),
    ],
  };
}

function noTop(): Example {
  const { expected } = record("cox.monotone");
  const fit = fitted(monotone());
  const separation = present(fit.columns[0]?.separation, "a separated column");
  return {
    title: "All events in one group: a likelihood without a highest point (constructed)",
    fromMemory: false,
    reference: REFERENCES.written,
    checks: [
      seriesCheck(
        "Log-likelihood at 0 and its supremum",
        [fit.nullLogLikelihood, fit.logLikelihood],
        [expected.loglikNull, expected.supremumLoglik],
        CLOSE,
      ),
      seriesCheck(
        "Likelihood-ratio chi-square and p",
        [separation.likelihoodRatio.chiSquare, separation.likelihoodRatio.p],
        [expected.lrtest, expected.lrP],
        CLOSE,
      ),
      valueCheck(
        "Lower profile limit, as a log ratio",
        Math.log(answered(separation.limit).ratio),
        expected.profileLowerLimit95,
        CLOSE,
      ),
    ],
  };
}

function sets(): Example {
  const reference = record("clogit.infert");
  const fit = fitted(matchedSets(), { sameDay: "exact" });
  return {
    title: "Infertility, 83 matched sets: the discrete likelihood is conditional logistic regression",
    printedIn: "a data set's manual page",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.survival,
    checks: [
      seriesCheck(
        "Log ratios, as printed",
        logRatios(fit.columns),
        reference.expected.coef,
        toleranceOf(reference),
        {
          figures: reference.published.figures.slice(0, 2),
          decimals: 4,
        },
      ),
      ...fitChecks("83 sets", fit, reference.expected, toleranceOf(reference)),
    ],
  };
}

/** With one category and nothing else, everybody has the predicted risk of the group. */
function standardised(): Example {
  const { columns, matrix } = freireich();
  const data = { ...columns, timeUnit: TIME_UNITS.year };
  const arms = {
    ...matrix,
    terms: [{ name: "arm", kind: "category", from: 0, columns: 1, reference: "6-MP" } as const],
  };
  const fit = fitted({ columns: data, matrix: arms });
  const years = [5, 10, 20];
  const curves = answered(
    standardisedCurves(data, arms, fit, { groups: asIfInGroup(arms, "arm"), years }),
  ).years.map((year) => answered(year).risks.map(({ risk }) => risk));
  const predicted = answered(
    predictedCurves(data, arms, fit, {
      at: [
        { label: "6-MP", values: { x: 0 } },
        { label: "placebo", values: { x: 1 } },
      ],
      years,
    }),
  ).curves.map(({ atYears }) => atYears.map((value) => 1 - answered(value).survival));
  return {
    title: "6-MP against placebo: risks averaged over the cohort, were all in one arm",
    fromMemory: false,
    reference: "identity: with no other column the average is the predicted risk of the arm",
    checks: [
      seriesCheck(
        "Risk in both arms at 5, 10 and 20 weeks",
        curves.flat(),
        years.flatMap((_, at) => predicted.map((own) => own[at])),
        CLOSED,
      ),
    ],
  };
}
