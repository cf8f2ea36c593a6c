import { adjustForMultiplicity } from "../../../src/planning/adjust-for-multiplicity.ts";
import { countsByTime } from "../../../src/survival/counts-by-time.ts";
import { logRankTrend } from "../../../src/survival/log-rank-trend.ts";
import { pairwiseLogRank } from "../../../src/survival/pairwise-log-rank.ts";
import {
  codeColumn,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../../../tests/reference/reference-files.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered } from "../curves.ts";
import { REFERENCES } from "../references.ts";
import { columnsOf, familyChecks, record, tested, totalsChecks, WEIGHTINGS } from "./log-rank-family.ts";

const MARROW = ["ALL", "AML low risk", "AML high risk"];

const ARMS = ["6-MP", "placebo"];

export function logRankChecks(): Method {
  return {
    id: "log-rank",
    title: "Log-rank family: whole, weighted, stratified, pairwise, trend",
    functions: ["logRankTest", "logRankTrend", "pairwiseLogRank"],
    notes: ["The references also hold the modified Peto–Peto weight, which the package does not offer."],
    examples: [freireich(), catheters(), marrow(), pairs(), larynx(), strata(), matchedPairs(), ticks()],
  };
}

function freireich(): Example {
  const reference = record("logrank.freireich");
  const columns = columnsOf("freireich.csv", "arm", ARMS);
  const because =
    "recalled without confidence, and met neither with survival just before the tick nor with the tick included; reference and package agree with each other";
  return {
    title: "6-MP against placebo (Freireich and others 1963)",
    printedIn: "Kleinbaum and Klein, Survival Analysis: A Self-Learning Text, chapter 2",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.written,
    checks: [
      ...totalsChecks(columns, reference),
      ...familyChecks(columns, reference, {
        figures: reference.published.figures,
        decimals: () => 2,
        because: { fh_3_1: because, fh_1_3: because },
      }),
    ],
  };
}

function catheters(): Example {
  const reference = record("logrank.kidney_catheter");
  const columns = columnsOf("kidney_catheter_placement.csv", "type", ["surgical", "percutaneous"], {
    perUnit: 10,
  });
  const { chisq, p } = reference.published.figures;
  return {
    title: "Kidney catheters, surgical against percutaneous: early and late weights disagree",
    printedIn: "Klein and Moeschberger, example 7.2, table 7.3",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.written,
    checks: familyChecks(columns, reference, {
      figures: chisq,
      p,
      decimals: (name) => (name === "gehanBreslow" ? 3 : 2),
    }),
  };
}

function marrow(): Example {
  const reference = record("logrank.bmt_3groups");
  const columns = columnsOf("bmt_dfs.csv", "group", MARROW);
  const { logrank, gehan } = reference.published.figures;
  const trend = answered(logRankTrend(countsByTime(columns)));
  const { trend_1_2_3: theirs } = reference.expected;
  return {
    title: "Disease-free survival after marrow transplantation, three groups",
    printedIn: "Klein and Moeschberger, example 7.4",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.written,
    checks: [
      ...totalsChecks(columns, reference),
      ...familyChecks(columns, reference, {
        figures: { logrank, gehanBreslow: gehan },
        decimals: () => 4,
      }),
      valueCheck("Trend over scores 1, 2, 3: z", trend.z, theirs.z, toleranceOf(reference)),
      valueCheck("Trend over scores 1, 2, 3: p", trend.p, theirs.p, toleranceOf(reference)),
    ],
  };
}

function pairs(): Example {
  const reference = record("logrank.bmt_pairwise");
  const counts = countsByTime(columnsOf("bmt_dfs.csv", "group", MARROW));
  const { pairs: ours } = pairwiseLogRank(counts);
  const p = ours.map(({ test }) => answered(test).p);
  const { expected } = reference;
  return {
    title: "The same three groups, each pair on its own rows",
    fromMemory: false,
    reference: REFERENCES.written,
    checks: [
      seriesCheck("p of three pairs", p, expected.p, toleranceOf(reference)),
      seriesCheck(
        "p adjusted by Holm",
        ours.map(({ adjustedP }) => adjustedP),
        expected.holm,
        toleranceOf(reference),
      ),
      seriesCheck(
        "p adjusted by false discovery rate",
        adjustForMultiplicity(p, { method: "false-discovery-rate" }).adjusted,
        expected.bh,
        toleranceOf(reference),
      ),
    ],
  };
}

function larynx(): Example {
  const reference = record("logrank.larynx_trend");
  const columns = columnsOf("larynx.csv", "stage", ["1", "2", "3", "4"], { perUnit: 10 });
  const names = Object.keys(reference.expected.tests).filter((name) => WEIGHTINGS[name] !== undefined);
  const trends = names.map((name) =>
    answered(logRankTrend(countsByTime(columns), { weighting: WEIGHTINGS[name]?.weighting ?? "equal" })),
  );
  const theirs = names.map((name) => reference.expected.tests[name].trend);
  return {
    title: "Cancer of the larynx, stages I to IV",
    printedIn: "Klein and Moeschberger, example 7.6",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.written,
    checks: [
      valueCheck("Trend over stages: z", trends[0]?.z, theirs[0].z, toleranceOf(reference), {
        figure: reference.published.figures.zLogrank,
        decimals: 2,
      }),
      seriesCheck(
        "Trend, all weightings: z",
        trends.map(({ z }) => z),
        theirs.map(({ z }: { z: number }) => z),
        toleranceOf(reference),
      ),
      seriesCheck(
        "Trend, all weightings: p",
        trends.map(({ p }) => p),
        theirs.map(({ p }: { p: number }) => p),
        toleranceOf(reference),
      ),
      ...familyChecks(columns, reference),
    ],
  };
}

function strata(): Example {
  const reference = record("logrank.hodgkin_stratified");
  return {
    title: "Transplants in lymphoma, two kinds of graft within two diseases",
    fromMemory: false,
    reference: REFERENCES.written,
    checks: familyChecks(
      columnsOf("hodgkin_transplant.csv", "graft", ["allogeneic", "autologous"], { stratum: "disease" }),
      reference,
    ),
  };
}

function matchedPairs(): Example {
  const reference = record("logrank.freireich_pairs");
  const test = tested(columnsOf("freireich.csv", "arm", ARMS, { stratum: "pair" }));
  return {
    title: "6-MP against placebo within 21 matched pairs: the sign test",
    fromMemory: false,
    reference: REFERENCES.written,
    checks: [
      valueCheck("Chi-square", test.chiSquare, reference.expected.chisq, toleranceOf(reference)),
      valueCheck("p", test.p, reference.expected.p, toleranceOf(reference)),
    ],
  };
}

function ticks(): Example {
  const reference = referenceRecord("18_float_ties", "floatties.difference");
  const rows = referenceRows("float_ties.csv");
  const test = tested({
    exit: numberColumn(rows, "yearsDifference").map((year) => Math.round(year * 365.25)),
    event: numberColumn(rows, "status"),
    group: codeColumn(rows, "x", ["0", "1"]),
  });
  return {
    title: "Days that differ only by rounding once written as years (constructed)",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: [
      valueCheck("Chi-square", test.chiSquare, reference.expected.days.logrank, toleranceOf(reference)),
    ],
  };
}
