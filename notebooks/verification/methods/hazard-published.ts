import { TIME_UNITS } from "../../../src/base/time-unit.ts";
import { coxConcordance } from "../../../src/regression/cox-concordance.ts";
import { coxProfileLimits } from "../../../src/regression/cox-profile-limits.ts";
import { coxResiduals } from "../../../src/regression/cox-residuals.ts";
import { coxInfluence } from "../../../src/regression/cox-row-influence.ts";
import { baselineHazard } from "../../../src/regression/predicted-curves.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { freireich, larynx, sixRows } from "../../../tests/regression/cox-examples.ts";
import { type Example, seriesCheck, valueCheck } from "../check.ts";
import { answered, present } from "../curves.ts";
import { REFERENCES } from "../references.ts";

import { CLOSE, CLOSED, fitChecks, fitted, logRatios, record } from "./hazard-fits.ts";

export function placebo(): Example {
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

export function pairs(): Example {
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

export function stages(): Example {
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

export function smallest(): Example {
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
