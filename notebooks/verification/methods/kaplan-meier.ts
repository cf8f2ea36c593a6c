import { TIME_UNITS } from "../../../src/base/time-unit.ts";
import { countsByTime } from "../../../src/survival/counts-by-time.ts";
import { kaplanMeier } from "../../../src/survival/kaplan-meier.ts";
import { smoothedHazard } from "../../../src/survival/smoothed-hazard.ts";
import {
  codeColumn,
  numberColumn,
  referenceRecord,
  referenceRows,
  wholeTicks,
} from "../../../tests/reference/reference-files.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered, present } from "../curves.ts";
import { gammopathy } from "../gammopathy.ts";
import { REFERENCES } from "../references.ts";
import { kaplanAndMeier, placebo, sixMercaptopurine } from "./kaplan-meier-published.ts";
import { copies, countedInParts, delayedEntry, ties } from "./kaplan-meier-rows.ts";

/** Kaplan–Meier curves, their variance and limits on three scales, values at years and cumulative hazard. */
export function kaplanMeierChecks(): Method {
  return {
    id: "kaplan-meier",
    title: "Kaplan–Meier: survival, standard errors, limits on three scales",
    functions: [
      "checkObservations",
      "countsByTime",
      "countsFromTable",
      "addCounts",
      "kaplanMeier",
      "conditionalSurvival",
      "cumulativeHazard",
      "smoothedHazard",
    ],
    notes: [
      "Where survival is 0 neither standard error nor limits are defined; the row counts as met when both sides say so.",
    ],
    examples: [
      sixMercaptopurine(),
      placebo(),
      kaplanAndMeier(),
      countedInParts(),
      ties(),
      copies(),
      ...delayedEntry(),
      years(),
      smoothed(),
    ],
  };
}

function smoothed(): Example {
  const reference = referenceRecord("21_clustered_means", "hazard.smoothed");
  const { expected } = reference;
  return {
    title: "Gammopathy data: hazard a year, smoothed over two years each way, at 13 times",
    fromMemory: false,
    reference: `${REFERENCES.survival} for the steps, the sum over the window written out`,
    checks: ["malignancy", "death"].flatMap((cause) => {
      const { groups } = smoothedHazard(countsByTime(gammopathy("sex")), {
        halfWindowYears: 2,
        stepYears: 1,
        event: [cause],
      });
      return ["F", "M"].flatMap((sex, at) => {
        const ours = answered(present(groups[at], "a group").smoothed);
        const theirs = expected[cause][sex];
        const pick = (values: readonly number[]) =>
          expected.times.map((time: number) => values[ours.time.indexOf(time)]) as unknown[];
        const words = `${cause}, ${sex === "F" ? "women" : "men"}`;
        return [
          seriesCheck(`Hazard, ${words}`, pick(ours.hazard), theirs.hazard, toleranceOf(reference)),
          seriesCheck(
            `Standard error, ${words}`,
            pick(ours.standardError),
            theirs.se,
            toleranceOf(reference),
          ),
          seriesCheck(
            `95 % limits, ${words}`,
            [...pick(ours.lower), ...pick(ours.upper)],
            [...theirs.lower, ...theirs.upper],
            toleranceOf(reference),
          ),
        ];
      });
    }),
  };
}

/** The share with neither event in the competing-risk data is a Kaplan–Meier curve of either event. */
function years(): Example {
  const reference = referenceRecord("04_competing_risks", "cif.mgus2_by_sex");
  const rows = referenceRows("mgus2.csv");
  const asked = [1, 5, 10, 15];
  const { groups } = kaplanMeier(
    countsByTime({
      exit: wholeTicks(numberColumn(rows, "time"), 1),
      event: numberColumn(rows, "event").map((event) => Math.min(event, 1)),
      group: codeColumn(rows, "sex", ["F", "M"]),
      timeUnit: TIME_UNITS.month,
    }),
    { years: asked },
  );
  return {
    title:
      "Values at years: neither malignancy nor death in 1384 people with a gammopathy (Kyle and others 2002)",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: ["F", "M"].flatMap((sex, group) =>
      asked.map((year, at) => {
        const value = answered(groups[group]?.atYears[at]).value;
        const place = reference.expected[sex].times.indexOf(12 * year);
        const theirs = reference.expected[sex].eventFree[place];
        return valueCheck(
          `Survival at ${year} ${year === 1 ? "year" : "years"}, ${sex === "F" ? "women" : "men"}`,
          value,
          theirs,
          toleranceOf(reference),
        );
      }),
    ),
  };
}
