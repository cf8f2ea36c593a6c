import { clusteredLogRank } from "../../../src/survival/clustered-log-rank.ts";
import { SHARES_OR_NONE } from "../../../src/survival/few-clusters.ts";
import { codeColumn, referenceRows } from "../../../tests/reference/reference-files.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Example, type Method, valueCheck } from "../check.ts";
import { answered } from "../curves.ts";
import { REFERENCES } from "../references.ts";
import { difference, incidence, survival, weights } from "./clustered-curves.ts";
import { clustered, record, TITLE } from "./clustered-data.ts";
import { mean, rates } from "./clustered-means.ts";

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
