import { TIME_UNITS } from "../../../src/base/time-unit.ts";
import { hazardRatiosByPeriod } from "../../../src/regression/hazard-ratios-by-period.ts";
import { predictedCurves } from "../../../src/regression/predicted-curves.ts";
import { asIfInGroup, standardisedCurves } from "../../../src/regression/standardised-curves.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import {
  freireich,
  leukaemia,
  matchedSets,
  monotone,
  veteranPeriods,
  veteranTogether,
} from "../../../tests/regression/cox-examples.ts";
import { type Example, seriesCheck, valueCheck } from "../check.ts";
import { answered, present } from "../curves.ts";
import { REFERENCES } from "../references.ts";

import { CLOSE, CLOSED, fitChecks, fitted, logRatios, record } from "./hazard-fits.ts";

export function copies(): Example {
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

export function periods(): Example {
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

export function noTop(): Example {
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
        [answered(separation.likelihoodRatio).chiSquare, answered(separation.likelihoodRatio).p],
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

export function sets(): Example {
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
export function standardised(): Example {
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
