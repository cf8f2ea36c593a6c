import { clusteredRate } from "../../../src/survival/clustered-rate.ts";
import { clusteredRestrictedMean } from "../../../src/survival/clustered-restricted-mean.ts";
import type { SharesOrNone } from "../../../src/survival/few-clusters.ts";
import { referenceRecord } from "../../../tests/reference/reference-files.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Example, seriesCheck } from "../check.ts";
import { answered, present } from "../curves.ts";
import { REFERENCES } from "../references.ts";
import { clustered, TITLE } from "./clustered-data.ts";

const WIDENED: Readonly<Record<SharesOrNone, string>> = {
  none: "",
  shares: "; each cluster's part over one minus its share of the group",
};

const RECORD_OF: Readonly<Record<SharesOrNone, string>> = { none: "", shares: ".shares" };

export function mean(smallSample: SharesOrNone): Example {
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

export function rates(smallSample: SharesOrNone): Example {
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
