import { adjustForMultiplicity } from "../../../src/planning/adjust-for-multiplicity.ts";
import { countsByTime } from "../../../src/survival/counts-by-time.ts";
import { type LogRankOptions, logRankTest } from "../../../src/survival/log-rank-test.ts";
import { logRankTrend } from "../../../src/survival/log-rank-trend.ts";
import type { LogRankWeighting } from "../../../src/survival/log-rank-weighting.ts";
import type { ObservationColumns } from "../../../src/survival/observations.ts";
import { pairwiseLogRank } from "../../../src/survival/pairwise-log-rank.ts";
import {
  codeColumn,
  numberColumn,
  type ReferenceRecord,
  referenceRecord,
  referenceRows,
  wholeTicks,
} from "../../../tests/reference/reference-files.ts";
import { EXACT, toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Check, type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered } from "../curves.ts";
import { REFERENCES } from "../references.ts";

const record = (id: string) => referenceRecord("02_logrank", id);
const MARROW = ["ALL", "AML low risk", "AML high risk"];
const ARMS = ["6-MP", "placebo"];

/** Weightings by their names in the reference files. */
const WEIGHTINGS: Readonly<Record<string, { readonly weighting: LogRankWeighting; readonly words: string }>> =
  {
    logrank: { weighting: "equal", words: "all ticks alike (log-rank)" },
    gehanBreslow: { weighting: "atRisk", words: "by the number at risk (Gehan–Breslow)" },
    taroneWare: { weighting: "rootAtRisk", words: "by its root (Tarone–Ware)" },
    petoPeto: { weighting: "survival", words: "by survival (Peto–Peto)" },
    ...Object.fromEntries(
      [
        [1, 0],
        [0, 1],
        [1, 1],
        [0.5, 0.5],
        [0.5, 2],
        [3, 1],
        [1, 3],
      ].map(([early = 0, late = 0]) => [
        `fh_${early}_${late}`,
        { weighting: { early, late }, words: `early ${early}, late ${late} (Fleming–Harrington)` },
      ]),
    ),
  };

export function logRankChecks(): Method {
  return {
    id: "log-rank",
    title: "Log-rank family: whole, weighted, stratified, pairwise, trend",
    functions: ["logRankTest", "logRankTrend", "pairwiseLogRank"],
    notes: ["The references also hold the modified Peto–Peto weight, which the package does not offer."],
    examples: [freireich(), catheters(), marrow(), pairs(), larynx(), strata(), matchedPairs(), ticks()],
  };
}

interface Print {
  readonly figures: Readonly<Record<string, number>>;
  readonly p?: Readonly<Record<string, number>>;
  readonly decimals: (name: string) => number;
  readonly because?: Readonly<Record<string, string>>;
}

/** A row for every printed chi-square, one for the others, and one for all p-values unless they are printed. */
function familyChecks(columns: ObservationColumns, reference: ReferenceRecord, print?: Print): Check[] {
  const counts = countsByTime(columns);
  const tolerance = toleranceOf(reference);
  const names = Object.keys(reference.expected.tests).filter((name) => WEIGHTINGS[name] !== undefined);
  const tests = names.map((name) => {
    const { weighting = "equal" as const, words = name } = WEIGHTINGS[name] ?? {};
    return {
      name,
      words,
      ours: answered(logRankTest(counts, { weighting })),
      theirs: reference.expected.tests[name],
    };
  });
  const figureOf = (name: string) => {
    const figure = print?.figures[name];
    if (figure === undefined) return undefined;
    const because = print?.because?.[name];
    return { figure, decimals: print?.decimals(name) ?? 0, ...(because !== undefined && { because }) };
  };
  const isPrinted = ({ name }: { name: string }) => print?.figures[name] !== undefined;
  const chiSquares = tests
    .filter(isPrinted)
    .map(({ name, words, ours, theirs }) =>
      valueCheck(`Chi-square, ${words}`, ours.chiSquare, theirs.chisq, tolerance, figureOf(name)),
    );
  const others = tests.filter((test) => !isPrinted(test));
  const rest = seriesCheck(
    `Chi-square, ${print === undefined ? "all" : "the other"} weightings`,
    others.map(({ ours }) => ours.chiSquare),
    others.map(({ theirs }) => theirs.chisq),
    tolerance,
  );
  const { p } = print ?? {};
  const pChecks =
    p === undefined
      ? [
          seriesCheck(
            "p, all weightings",
            tests.map(({ ours }) => ours.p),
            tests.map(({ theirs }) => theirs.p),
            tolerance,
          ),
        ]
      : tests.map(({ name, words, ours, theirs }) =>
          valueCheck(
            `p, ${words}`,
            ours.p,
            theirs.p,
            tolerance,
            p[name] === undefined ? undefined : { figure: p[name], decimals: 3 },
          ),
        );
  return [...chiSquares, rest, ...pChecks];
}

function columnsOf(
  file: string,
  group: string,
  labels: readonly string[],
  { perUnit = 1, stratum }: { perUnit?: number; stratum?: string } = {},
): ObservationColumns {
  const rows = referenceRows(file);
  const strata = stratum === undefined ? [] : [...new Set(rows.map((row) => row[stratum] ?? ""))];
  return {
    exit: wholeTicks(numberColumn(rows, "time"), perUnit),
    event: numberColumn(rows, "status"),
    group: codeColumn(rows, group, labels),
    ...(stratum !== undefined && { stratum: codeColumn(rows, stratum, strata) }),
  };
}

function tested(columns: ObservationColumns, options?: LogRankOptions) {
  return answered(logRankTest(countsByTime(columns), options));
}

function totalsChecks(columns: ObservationColumns, reference: ReferenceRecord): Check[] {
  const { groups } = tested(columns);
  const { observed, expected } = reference.expected;
  return [
    seriesCheck(
      "Observed events by group",
      groups.map((group) => group.observed),
      observed,
      EXACT,
    ),
    seriesCheck(
      "Expected events by group",
      groups.map((group) => group.expected),
      expected,
      toleranceOf(reference),
    ),
  ];
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
