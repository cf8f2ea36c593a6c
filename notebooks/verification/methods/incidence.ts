import { normalUpperQuantile } from "../../../src/numeric/normal.ts";
import { countsByTime } from "../../../src/survival/counts-by-time.ts";
import { cumulativeIncidence } from "../../../src/survival/cumulative-incidence.ts";
import { type GrayOptions, grayTest } from "../../../src/survival/gray-test.ts";
import { logRankTest } from "../../../src/survival/log-rank-test.ts";
import type { ObservationColumns } from "../../../src/survival/observations.ts";
import type { IncidenceSteps, IntervalScale } from "../../../src/survival/results.ts";
import { yearDifference } from "../../../src/survival/year-difference.ts";
import {
  codeColumn,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../../../tests/reference/reference-files.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Check, type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered } from "../curves.ts";
import { gammopathy, stepAt } from "../gammopathy.ts";
import { REFERENCES } from "../references.ts";

const bySex = referenceRecord.bind(undefined, "04_competing_risks", "cif.mgus2_by_sex");
const TITLE = "1384 people with a gammopathy, malignancy or death first (Kyle and others 2002)";

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

/** Gray's test of crude risks, and the cause-specific log-rank beside it. */
export function grayChecks(): Method {
  return {
    id: "gray-test",
    title: "Gray's test of crude risks",
    functions: ["grayTest"],
    notes: [
      "The reference prints a p of 0 for one comparison of three age groups; such p are compared as chi-square only.",
    ],
    examples: [grayTwoGroups(), grayThreeGroups(), grayByHand()],
  };
}

/** Differences of two groups at a stated year. */
export function differenceChecks(): Method {
  const reference = bySex();
  const years = [1, 5, 10, 15];
  const counts = countsByTime(gammopathy("sex"));
  const differences = (cause: string) =>
    yearDifference(counts, { measure: "incidence", cause, years }).map((answer) => answered(answer));
  const z = normalUpperQuantile(0.025);
  return {
    id: "year-differences",
    title: "Difference of two groups at stated years",
    functions: ["yearDifference"],
    examples: [
      {
        title: `Women less men: ${TITLE}`,
        fromMemory: false,
        reference:
          "difference and summed variances of the reference incidences (R 4.2.2 with survival 3.5-3)",
        checks: ["malignancy", "death"].flatMap((cause, index) => {
          const ours = differences(cause);
          const theirs = years.map((year) => {
            const [a, b] = ["F", "M"].map((sex) => at(reference.expected[sex], index + 1, 12 * year));
            const difference = (a?.value ?? 0) - (b?.value ?? 0);
            const se = Math.hypot(a?.se ?? 0, b?.se ?? 0);
            return { difference, se, limits: [difference - z * se, difference + z * se] };
          });
          const tolerance = toleranceOf(reference, "se");
          return [
            valueCheck(
              `Difference at 10 years, ${cause}`,
              ours[2]?.difference,
              theirs[2]?.difference,
              tolerance,
            ),
            seriesCheck(
              `Differences at 1, 5, 10 and 15 years, ${cause}`,
              ours.map(({ difference }) => difference),
              theirs.map(({ difference }) => difference),
              tolerance,
            ),
            seriesCheck(
              `Standard errors, ${cause}`,
              ours.map(({ standardError }) => standardError),
              theirs.map(({ se }) => se),
              tolerance,
            ),
            seriesCheck(
              `95 % limits, ${cause}`,
              ours.flatMap(({ lower, upper }) => [lower, upper]),
              theirs.flatMap(({ limits }) => limits),
              tolerance,
            ),
          ];
        }),
      },
    ],
  };
}

// biome-ignore lint/suspicious/noExplicitAny: the shape of a reference record is its own
function at(group: any, cause: number, time: number): { value: number; se: number } {
  const place = group.times.indexOf(time);
  const { cif, seInfinitesimalJackknife: se } = group[`cause${cause}`];
  return { value: cif[place], se: se[place] };
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

function handColumns(): ObservationColumns {
  const rows = referenceRows("cif_hand.csv");
  return { exit: numberColumn(rows, "time"), event: numberColumn(rows, "event"), causes: ["one", "two"] };
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

function gray(columns: ObservationColumns, options: GrayOptions) {
  return answered(grayTest(countsByTime(columns), options));
}

function grayTwoGroups(): Example {
  const reference = referenceRecord("04_competing_risks", "gray.mgus2_sex");
  const { gray: theirs, causeSpecificLogrank } = reference.expected;
  const tolerance = toleranceOf(reference);
  const columns = gammopathy("sex");
  return {
    title: `Women and men: ${TITLE}`,
    fromMemory: false,
    reference: `${REFERENCES.cmprsk}; log-rank: ${REFERENCES.survival}`,
    checks: ["malignancy", "death"].flatMap((cause, index): Check[] => {
      const ours = gray(columns, { cause });
      const name = `cause${index + 1}`;
      const logRank = answered(logRankTest(countsByTime(columns), { event: [cause] }));
      return [
        valueCheck(`Chi-square, ${cause}`, ours.chiSquare, theirs[name].stat, tolerance),
        valueCheck(`p, ${cause}`, ours.p, theirs[name].p, tolerance),
        valueCheck(
          `Cause-specific log-rank beside it, ${cause}`,
          logRank.chiSquare,
          causeSpecificLogrank[name].chisq,
          tolerance,
        ),
      ];
    }),
  };
}

function grayThreeGroups(): Example {
  const reference = referenceRecord("04_competing_risks", "gray.mgus2_age3");
  const tolerance = toleranceOf(reference);
  const age = gammopathy("age");
  const rows = referenceRows("mgus2.csv");
  const inSex = { ...age, stratum: codeColumn(rows, "sex", ["F", "M"]) };
  const forms = [
    { words: "", columns: age, power: 0, name: "plain" },
    { words: " within sex", columns: inSex, power: 0, name: "stratifiedBySex" },
    { words: " with early ticks stressed", columns: age, power: 1, name: "rho1" },
  ];
  return {
    title: `Under 65, 65 to 74, 75 and over: ${TITLE}`,
    fromMemory: false,
    reference: REFERENCES.cmprsk,
    checks: forms.flatMap(({ words, columns, power, name }) =>
      ["malignancy", "death"].flatMap((cause, index): Check[] => {
        const theirs = reference.expected[name][`cause${index + 1}`];
        const ours = gray(columns, { cause, power });
        return [
          valueCheck(`Chi-square, ${cause}${words}`, ours.chiSquare, theirs.stat, tolerance),
          ...(theirs.p === 0 ? [] : [valueCheck(`p, ${cause}${words}`, ours.p, theirs.p, tolerance)]),
        ];
      }),
    ),
  };
}

function grayByHand(): Example {
  const reference = referenceRecord("04_competing_risks", "cif.hand");
  const group = codeColumn(referenceRows("cif_hand.csv"), "group", ["A", "B"]);
  const answers = ["one", "two"].map((cause) => gray({ ...handColumns(), group }, { cause }));
  const { stat, p } = reference.expected.gray;
  return {
    title: "Ten rows with both causes on one day (constructed)",
    fromMemory: false,
    reference: REFERENCES.cmprsk,
    checks: [
      seriesCheck(
        "Chi-square, both causes",
        answers.map(({ chiSquare }) => chiSquare),
        stat,
        toleranceOf(reference),
      ),
      seriesCheck(
        "p, both causes",
        answers.map((answer) => answer.p),
        p,
        toleranceOf(reference),
      ),
    ],
  };
}
