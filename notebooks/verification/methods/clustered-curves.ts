import { clusteredIncidence } from "../../../src/survival/clustered-incidence.ts";
import { clusteredSurvival } from "../../../src/survival/clustered-survival.ts";
import { yearDifference } from "../../../src/survival/year-difference.ts";
import {
  codeColumn,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../../../tests/reference/reference-files.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Example, seriesCheck } from "../check.ts";
import { answered, atEvents, present } from "../curves.ts";
import { stepAt } from "../gammopathy.ts";
import { REFERENCES } from "../references.ts";
import { clustered, record, TITLE } from "./clustered-data.ts";

export function survival(): Example {
  const reference = record("clustered.survival");
  const columns = clustered("sex");
  const { groups } = clusteredSurvival(columns);
  const { times, bySex } = reference.expected;
  return {
    title: `Free of malignancy and death at 1, 5, 10 and 15 years, ${TITLE}`,
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: ["F", "M"].flatMap((sex, group) => {
      const curve = present(groups[group], "a curve");
      const places = times.map((time: number) => stepAt(curve.time, time)) as number[];
      const words = sex === "F" ? "women" : "men";
      return [
        seriesCheck(
          `Survival, ${words}`,
          places.map((place) => curve.survival[place]),
          bySex[sex].survival,
          toleranceOf(reference),
        ),
        seriesCheck(
          `Standard error between clusters, ${words}`,
          places.map((place) => curve.standardError[place]),
          bySex[sex].se,
          toleranceOf(reference),
        ),
      ];
    }),
  };
}

export function incidence(): Example {
  const reference = record("clustered.incidence");
  const { curves } = clusteredIncidence(clustered("sex"));
  const { times, bySex } = reference.expected;
  return {
    title: `Incidence at 1, 5, 10 and 15 years, ${TITLE}`,
    fromMemory: false,
    reference: `${REFERENCES.survival}: influence of each row, summed by cluster`,
    checks: ["F", "M"].flatMap((sex, group) =>
      ["malignancy", "death"].flatMap((cause, index) => {
        const curve = present(curves[2 * group + index], "a curve");
        const places = times.map((time: number) => stepAt(curve.time, time)) as number[];
        const words = `${cause}, ${sex === "F" ? "women" : "men"}`;
        const theirs = bySex[sex][`cause${index + 1}`];
        return [
          seriesCheck(
            `Incidence, ${words}`,
            places.map((place) => curve.incidence[place]),
            theirs.cif,
            toleranceOf(reference),
          ),
          seriesCheck(
            `Standard error between clusters, ${words}`,
            places.map((place) => curve.standardError[place]),
            theirs.se,
            toleranceOf(reference),
          ),
        ];
      }),
    ),
  };
}

export function difference(): Example {
  const reference = record("clustered.difference");
  const { expected } = reference;
  const years = expected.times.map((time: number) => time / 12) as number[];
  return {
    title: `Women less men at 1, 5, 10 and 15 years, ${TITLE}`,
    fromMemory: false,
    reference: `${REFERENCES.survival}: influence on women less influence on men, summed by cluster`,
    checks: ["malignancy", "death"].flatMap((cause, index) => {
      const ours = yearDifference(clustered("sex"), {
        measure: "incidence",
        cause,
        years,
        smallSample: "none",
      }).map((answer) => answered(answer));
      const theirs = expected[`cause${index + 1}`];
      return [
        seriesCheck(
          `Difference, ${cause}`,
          ours.map((answer) => answer.difference),
          theirs.difference,
          toleranceOf(reference),
        ),
        seriesCheck(
          `Standard error between clusters, ${cause}`,
          ours.map((answer) => answer.standardError),
          theirs.se,
          toleranceOf(reference),
        ),
      ];
    }),
  };
}

export function weights(): Example {
  const reference = referenceRecord("01_kaplan_meier", "km.weighted.robust");
  const rows = referenceRows("aml_weighted.csv");
  const labels = ["Maintained", "Nonmaintained"];
  const { groups } = clusteredSurvival(
    {
      exit: numberColumn(rows, "time"),
      event: numberColumn(rows, "status"),
      group: codeColumn(rows, "group", labels),
      weight: { kind: "sampling", values: numberColumn(rows, "wFrac") },
    },
    { scale: "log" },
  );
  return {
    title: "Sampling weights, each row its own cluster (leukaemia maintenance, invented weights)",
    fromMemory: false,
    reference: `${REFERENCES.survival}: infinitesimal jackknife`,
    checks: labels.flatMap((label, place) => {
      const ours = atEvents(present(groups[place], "a curve"));
      const theirs = reference.expected.robust[label];
      const alive = (values: readonly unknown[]) =>
        values.map((value, step) => (theirs.survival[step] === 0 ? null : value));
      const words = label.toLowerCase();
      return [
        seriesCheck(`Survival, ${words}`, ours.survival, theirs.survival, toleranceOf(reference)),
        seriesCheck(`Standard error, ${words}`, ours.standardError, alive(theirs.se), toleranceOf(reference)),
        seriesCheck(
          `95 % limits, log scale, ${words}`,
          [...ours.lower, ...ours.upper],
          [...alive(theirs.lower), ...alive(theirs.upper)],
          toleranceOf(reference),
        ),
      ];
    }),
  };
}
