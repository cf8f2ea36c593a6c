import { clusteredIncidence } from "../../../src/survival/clustered-incidence.ts";
import { clusteredLogRank } from "../../../src/survival/clustered-log-rank.ts";
import { clusteredRate } from "../../../src/survival/clustered-rate.ts";
import { clusteredRestrictedMean } from "../../../src/survival/clustered-restricted-mean.ts";
import { clusteredSurvival } from "../../../src/survival/clustered-survival.ts";
import { SHARES_OR_NONE, type SharesOrNone } from "../../../src/survival/few-clusters.ts";
import type { ObservationColumns } from "../../../src/survival/observations.ts";
import { yearDifference } from "../../../src/survival/year-difference.ts";
import {
  codeColumn,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../../../tests/reference/reference-files.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered, atEvents, present } from "../curves.ts";
import { gammopathy, stepAt } from "../gammopathy.ts";
import { REFERENCES } from "../references.ts";

const record = (id: string) => referenceRecord("19_clustered", id);
const CLUSTERS = 40;
const TITLE = "gammopathy data in 40 invented clusters that hold women and men";
const WIDENED: Readonly<Record<SharesOrNone, string>> = {
  none: "",
  shares: "; each cluster's part over one minus its share of the group",
};
const RECORD_OF: Readonly<Record<SharesOrNone, string>> = { none: "", shares: ".shares" };

/** Variance between clusters: curves, incidence, the log-rank score and differences. */
export function clusteredChecks(): Method {
  return {
    id: "clusters",
    title: "Variance between clusters and with sampling weights",
    functions: [
      "clusteredLogRank",
      "clusteredSurvival",
      "clusteredIncidence",
      "yearDifference",
      "clusteredRestrictedMean",
      "clusteredRate",
    ],
    notes: [
      "Sums of squared influence by cluster, without a small-sample factor unless said, on both sides.",
    ],
    examples: [
      logRank(),
      survival(),
      incidence(),
      difference(),
      ...SHARES_OR_NONE.flatMap((smallSample) => [mean(smallSample), rates(smallSample)]),
      weights(),
    ],
  };
}

function clustered(by: "sex" | "age"): ObservationColumns {
  const columns = gammopathy(by);
  return { ...columns, cluster: { codes: columns.exit.map((_, row) => row % CLUSTERS), word: "centre" } };
}

function logRank(): Example {
  const reference = record("clustered.logrank");
  const inSex = { ...clustered("age"), stratum: codeColumn(referenceRows("mgus2.csv"), "sex", ["F", "M"]) };
  const tests = [
    {
      words: "malignancy, women and men",
      name: "malignancyBySex",
      columns: clustered("sex"),
      event: "malignancy",
    },
    { words: "death, women and men", name: "deathBySex", columns: clustered("sex"), event: "death" },
    { words: "death, three ages", name: "deathByAge", columns: clustered("age"), event: "death" },
    { words: "death, three ages within sex", name: "deathByAgeWithinSex", columns: inSex, event: "death" },
  ];
  return {
    title: `Log-rank, ${TITLE}`,
    fromMemory: false,
    reference: `${REFERENCES.survival}: robust score test of a Cox model at coefficient 0, Breslow ties`,
    checks: tests.flatMap(({ words, name, columns, event }) => {
      const ours = answered(clusteredLogRank(columns, { event: [event] }));
      const theirs = reference.expected[name];
      return [
        valueCheck(`Chi-square, ${words}`, ours.chiSquare, theirs.chisq, toleranceOf(reference)),
        valueCheck(`p, ${words}`, ours.p, theirs.p, toleranceOf(reference)),
      ];
    }),
  };
}

function survival(): Example {
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

function incidence(): Example {
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

function difference(): Example {
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

function mean(smallSample: SharesOrNone): Example {
  const reference = referenceRecord(
    "21_clustered_means",
    `clustered.restricted_mean${RECORD_OF[smallSample]}`,
  );
  const tolerance = toleranceOf(reference);
  return {
    title: `Mean months free of malignancy and death over 5 and 10 years, ${TITLE}${WIDENED[smallSample]}`,
    fromMemory: false,
    reference: `${REFERENCES.survival}: influence of each row on the curve, integrated and summed by cluster`,
    checks: [60, 120].flatMap((months) => {
      const theirs = reference.expected[`tau${months}`];
      const { groups, comparisons } = clusteredRestrictedMean(clustered("sex"), {
        toYear: months / 12,
        smallSample,
      });
      const means = groups.map((group) => answered(group));
      const { difference: apart, ratio, ratioOfYearsLost } = answered(comparisons[0]);
      const flat = (one: { estimate: number; lower: number; upper: number; p: number }) => [
        one.estimate,
        one.lower,
        one.upper,
        one.p,
      ];
      const words = `to ${months} months`;
      return [
        seriesCheck(
          `Means and standard errors between clusters, ${words}`,
          means.flatMap(({ years, standardError }) => [12 * years, 12 * standardError]),
          ["F", "M"].flatMap((sex) => [theirs.mean[sex], theirs.se[sex]]),
          tolerance,
        ),
        seriesCheck(
          `Difference with standard error and limits, ${words}`,
          [apart.estimate, apart.standardError, apart.lower, apart.upper].map((years) => 12 * years),
          [
            theirs.difference.estimate,
            theirs.difference.se,
            theirs.difference.lower,
            theirs.difference.upper,
          ],
          tolerance,
        ),
        seriesCheck(
          `Ratios of time kept and lost with limits and p, ${words}`,
          [...flat(answered(ratio)), ...flat(answered(ratioOfYearsLost))],
          [...flat(theirs.ratio), ...flat(theirs.ratioLost)],
          tolerance,
        ),
      ];
    }),
  };
}

function rates(smallSample: SharesOrNone): Example {
  const reference = referenceRecord("21_clustered_means", `clustered.rate${RECORD_OF[smallSample]}`);
  const tolerance = toleranceOf(reference);
  return {
    title: `Events per 100 years, ${TITLE}${WIDENED[smallSample]}`,
    fromMemory: false,
    reference: `${REFERENCES.base}: Poisson regression with log time as offset, scores summed by cluster`,
    checks: ["malignancy", "death"].flatMap((cause) => {
      const theirs = reference.expected[cause];
      const { periods, comparisons } = clusteredRate(clustered("sex"), { event: [cause], smallSample });
      const ours = periods.map(({ rate }) => answered(rate));
      const comparison = answered(present(comparisons[0], "a comparison").comparison);
      const ratio = answered(comparison.ratio);
      const { difference: apart } = comparison;
      return [
        seriesCheck(
          `Rates and standard errors of their logs between clusters, ${cause}`,
          ours.flatMap(({ per100, standardErrorOfLog }) => [per100, standardErrorOfLog]),
          [0, 1].flatMap((sex) => [theirs.per100[sex], theirs.seLog[sex]]),
          tolerance,
        ),
        seriesCheck(
          `Ratio with limits and p, ${cause}`,
          [ratio.estimate, ratio.lower, ratio.upper, ratio.p],
          [theirs.ratio.estimate, theirs.ratio.lower, theirs.ratio.upper, theirs.ratio.p],
          tolerance,
        ),
        seriesCheck(
          `Difference with standard error and limits, ${cause}`,
          [apart.estimate, apart.standardError, apart.lower, apart.upper],
          [
            theirs.difference.estimate,
            theirs.difference.se,
            theirs.difference.lower,
            theirs.difference.upper,
          ],
          tolerance,
        ),
      ];
    }),
  };
}

function weights(): Example {
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
