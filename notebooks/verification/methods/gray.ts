import { countsByTime } from "../../../src/survival/counts-by-time.ts";
import { type GrayOptions, grayTest } from "../../../src/survival/gray-test.ts";
import { logRankTest } from "../../../src/survival/log-rank-test.ts";
import type { ObservationColumns } from "../../../src/survival/observations.ts";
import { codeColumn, referenceRecord, referenceRows } from "../../../tests/reference/reference-files.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Check, type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered } from "../curves.ts";
import { gammopathy } from "../gammopathy.ts";
import { REFERENCES } from "../references.ts";
import { handColumns, TITLE } from "./incidence-data.ts";

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

function gray(columns: ObservationColumns, options: GrayOptions) {
  return answered(grayTest(countsByTime(columns), options));
}
