import { normalUpperQuantile } from "../../../src/numeric/normal.ts";
import { countsByTime } from "../../../src/survival/counts-by-time.ts";
import { cumulativeIncidence } from "../../../src/survival/cumulative-incidence.ts";
import type { IncidenceSteps, IntervalScale } from "../../../src/survival/results.ts";
import { referenceRecord } from "../../../tests/reference/reference-files.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { gammopathy, stepAt } from "../gammopathy.ts";
import { REFERENCES } from "../references.ts";
import { bySex, handColumns, TITLE } from "./incidence-data.ts";

/** Cumulative incidence of competing causes with its variance and limits. */
export function incidenceChecks(): Method {
  return {
    id: "cumulative-incidence",
    title: "Cumulative incidence: estimates, variance, limits on three scales",
    functions: ["cumulativeIncidence"],
    notes: [
      "The standard error of the package is the Greenwood-type one; without weights, clusters and delayed entry it equals the infinitesimal jackknife. The variance of cmprsk differs from both in the third figure and is not followed.",
      "Limits on the scale log(−log(1 − F)) are this package's own convention: their reference is that formula applied to the reference estimate and standard error.",
    ],
    examples: [incidenceBySex(), incidenceByHand()],
  };
}

function incidenceBySex(): Example {
  const reference = bySex();
  const curvesOn = (scale: IntervalScale) =>
    cumulativeIncidence(countsByTime(gammopathy("sex")), { scale }).curves;
  const [own, log, linear] = [curvesOn("log-minus-log"), curvesOn("log"), curvesOn("linear")];
  return {
    title: TITLE,
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: ["F", "M"].flatMap((sex, group) =>
      ["malignancy", "death"].flatMap((cause, index) => {
        const theirs = reference.expected[sex][`cause${index + 1}`];
        const { times } = reference.expected[sex];
        const curve = 2 * group + index;
        const words = `${cause}, ${sex === "F" ? "women" : "men"}`;
        const value = readAt(own[curve], times);
        const limits = (curves: readonly IncidenceSteps[]) => {
          const { lower, upper } = readAt(curves[curve], times);
          return [...lower, ...upper];
        };
        const se = toleranceOf(reference, "se");
        const tenYears = times.indexOf(120);
        return [
          valueCheck(
            `At 10 years, ${words}`,
            value.incidence[tenYears],
            theirs.cif[tenYears],
            toleranceOf(reference),
          ),
          seriesCheck(`At 1 to 25 years, ${words}`, value.incidence, theirs.cif, toleranceOf(reference)),
          seriesCheck(`Standard error, ${words}`, value.standardError, theirs.seInfinitesimalJackknife, se),
          seriesCheck(
            `95 % limits, log scale, ${words}`,
            limits(log),
            [...theirs.logLower, ...theirs.logUpper],
            se,
          ),
          seriesCheck(
            `95 % limits, linear scale, ${words}`,
            limits(linear),
            [...theirs.plainLower, ...theirs.plainUpper],
            se,
          ),
          seriesCheck(`95 % limits, log-minus-log scale, ${words}`, limits(own), ownLimits(theirs), se),
        ];
      }),
    ),
  };
}

/** The package's own scale, from the reference estimate and standard error. */
function ownLimits(theirs: { cif: number[]; seInfinitesimalJackknife: number[] }): number[] {
  const z = normalUpperQuantile(0.025);
  const side = (sign: number) =>
    theirs.cif.map((incidence, place) => {
      const logFree = Math.log1p(-incidence);
      const width =
        ((theirs.seInfinitesimalJackknife[place] ?? 0) / ((1 - incidence) * Math.abs(logFree))) * z;
      return -Math.expm1(logFree * Math.exp(sign * width));
    });
  return [...side(-1), ...side(1)];
}

function readAt(curve: IncidenceSteps | undefined, times: readonly number[]) {
  const steps = times.map((time) => stepAt(curve?.time ?? [], time));
  return {
    incidence: steps.map((step) => curve?.incidence[step]),
    standardError: steps.map((step) => curve?.standardError[step]),
    lower: steps.map((step) => curve?.lower[step]),
    upper: steps.map((step) => curve?.upper[step]),
  };
}

function incidenceByHand(): Example {
  const reference = referenceRecord("04_competing_risks", "cif.hand");
  const { expected } = reference;
  const { curves } = cumulativeIncidence(countsByTime(handColumns()));
  return {
    title: "Ten rows with both causes on one day (constructed)",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: [1, 2].flatMap((cause) => [
      seriesCheck(
        `Incidence of cause ${cause} at every time`,
        curves[cause - 1]?.incidence ?? [],
        expected[`cif${cause}`],
        toleranceOf(reference),
      ),
      seriesCheck(
        `Standard error, cause ${cause}`,
        curves[cause - 1]?.standardError ?? [],
        expected[`seInfinitesimalJackknife${cause}`],
        toleranceOf(reference),
      ),
    ]),
  };
}
