import { eventsForMeasure } from "../../../src/planning/events-for-measure.ts";
import { unitsForMeans } from "../../../src/planning/units-for-means.ts";
import { unitsForProportion, unitsForProportions } from "../../../src/planning/units-for-proportions.ts";
import { unitsRequired } from "../../../src/planning/units-required.ts";
import { yearsRequired } from "../../../src/planning/years-required.ts";
import { referenceRecord } from "../../../tests/reference/reference-files.ts";
import { EXACT, toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered } from "../curves.ts";
import { REFERENCES } from "../references.ts";

/** Sums worked out with printed normal quantiles of ten digits; approximations as close. */
const TEN_DIGITS = { relative: 1e-9, absolute: 0 };

export function sampleSizeChecks(): Method {
  return {
    id: "sample-size",
    title: "Units and years required",
    functions: [
      "unitsRequired",
      "yearsRequired",
      "eventsForMeasure",
      "unitsForMeans",
      "unitsForProportions",
      "unitsForProportion",
    ],
    examples: [accrual(), waiting(), myeloma(), measures()],
  };
}

function accrual(): Example {
  const reference = referenceRecord("11_sample_size", "ss.accrual");
  const { tenYearSurvivalControl, hr, accrualYears, followUpYears, lossHazard, alpha, power } =
    reference.input as Record<string, number>;
  const input = {
    hazardRatio: hr ?? 1,
    hazardPerYear: -Math.log(tenYearSurvivalControl ?? 1) / 10,
    exposedShare: 0.5,
    accrualYears: accrualYears ?? 0,
    followUpYears: followUpYears ?? 0,
    lossPerYear: lossHazard ?? 0,
    level: alpha ?? 0,
    power: power ?? 0,
  };
  const byEvents = answered(unitsRequired(input));
  const byHazards = answered(unitsRequired({ ...input, method: "hazard-difference" }));
  const { expected } = reference;
  return {
    title: "Five years of accrual, ten more of follow-up, loss of 2 % a year",
    fromMemory: false,
    reference: REFERENCES.base,
    checks: [
      seriesCheck(
        "Share with an event, exposed and other",
        byEvents.eventShares,
        [expected.pEvent2, expected.pEvent1],
        toleranceOf(reference),
      ),
      valueCheck("Events among the units", byEvents.events, expected.events, toleranceOf(reference)),
      valueCheck("Units by events (Schoenfeld)", byEvents.unrounded, expected.n, toleranceOf(reference)),
      valueCheck(
        "Units by hazards (Lachin and Foulkes)",
        byHazards.unrounded,
        expected.lachinFoulkesN,
        toleranceOf(reference),
      ),
    ],
  };
}

/** While hardly anybody has left, N·λ·T²/2 events come in T years. */
function waiting(): Example {
  const [unitsPerYear, hazardPerYear] = [1000, 1e-12];
  const wanted = [1e-9, 1e-7, 1e-6];
  const years = (events: number) => answered(yearsRequired({ events, unitsPerYear, hazardPerYear })).years;
  return {
    title: "Waiting for events so rare that hardly anybody has left",
    fromMemory: false,
    reference: REFERENCES.closed,
    checks: [
      seriesCheck(
        "Years until the events are expected",
        wanted.map(years),
        wanted.map((events) => Math.sqrt((2 * events) / (unitsPerYear * hazardPerYear))),
        TEN_DIGITS,
      ),
    ],
  };
}

function myeloma(): Example {
  const reference = referenceRecord("11_sample_size", "ss.hsieh_lavori");
  const { sd, logHR, r2, alpha1, power } = reference.input as Record<string, number>;
  const input = {
    hazardRatio: Math.exp(logHR ?? 0),
    standardDeviation: sd ?? 0,
    level: alpha1 ?? 0,
    power: power ?? 0,
    sided: "one-sided" as const,
  };
  const alone = answered(eventsForMeasure(input));
  const adjusted = answered(eventsForMeasure({ ...input, explainedShare: r2 ?? 0 }));
  const { expected, published } = reference;
  return {
    title: "Events for a measure: multiple myeloma",
    printedIn: "Hsieh and Lavori 2000",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.base,
    checks: [
      valueCheck("Events, unrounded", alone.unrounded, expected.unadjusted, toleranceOf(reference)),
      valueCheck(
        "Events, adjusted, unrounded",
        adjusted.unrounded,
        expected.adjusted,
        toleranceOf(reference),
      ),
      valueCheck("Events, whole", alone.events, Math.ceil(expected.unadjusted), EXACT, {
        figure: published.figures.unadjusted,
        decimals: 0,
      }),
      valueCheck("Events, adjusted, whole", adjusted.events, Math.ceil(expected.adjusted), EXACT, {
        figure: published.figures.adjusted,
        decimals: 0,
      }),
    ],
  };
}

function measures(): Example {
  // Normal quantiles of 0.975 and 0.8, from printed tables.
  const [toLimit, toTruth] = [1.959_963_985, 0.841_621_234];
  const square = (toLimit + toTruth) * (toLimit + toTruth);
  const means = [0.5, 0.3].map(
    (difference) => answered(unitsForMeans({ difference, standardDeviation: 1.1 })).unrounded,
  );
  const proportions = [0.25, 0.3].map(
    (other) => answered(unitsForProportions({ proportions: [0.4, other] })).unrounded,
  );
  return {
    title: "Depths of 1.1 mm spread; 40 % of films with a line; a share to within five points",
    fromMemory: false,
    reference: REFERENCES.closed,
    checks: [
      seriesCheck(
        "Units for a difference of 0.5 and of 0.3 mm",
        means,
        [0.5, 0.3].map((difference) => (4 * square * 1.21) / (difference * difference)),
        TEN_DIGITS,
      ),
      seriesCheck(
        "Units for 40 against 25 %, and against 30 %",
        proportions,
        [(2 * square * (0.24 + 0.1875)) / 0.0225, (2 * square * (0.24 + 0.21)) / 0.01],
        TEN_DIGITS,
      ),
      valueCheck(
        "Units to state a half to within five points",
        answered(unitsForProportion({ proportion: 0.5, margin: 0.05 })).unrounded,
        (toLimit * toLimit) / 0.01,
        TEN_DIGITS,
      ),
    ],
  };
}
