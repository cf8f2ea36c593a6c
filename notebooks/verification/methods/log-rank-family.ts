import { countsByTime } from "../../../src/survival/counts-by-time.ts";
import { type LogRankOptions, logRankTest } from "../../../src/survival/log-rank-test.ts";
import type { LogRankWeighting } from "../../../src/survival/log-rank-weighting.ts";
import type { ObservationColumns } from "../../../src/survival/observations.ts";
import {
  codeColumn,
  numberColumn,
  type ReferenceRecord,
  referenceRecord,
  referenceRows,
  wholeTicks,
} from "../../../tests/reference/reference-files.ts";
import { EXACT, toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Check, seriesCheck, valueCheck } from "../check.ts";
import { answered } from "../curves.ts";

/** Weightings by their names in the reference files. */
export const WEIGHTINGS: Readonly<
  Record<string, { readonly weighting: LogRankWeighting; readonly words: string }>
> = {
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

export const record = (id: string) => referenceRecord("02_logrank", id);

export function columnsOf(
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

export function tested(columns: ObservationColumns, options?: LogRankOptions) {
  return answered(logRankTest(countsByTime(columns), options));
}

export function totalsChecks(columns: ObservationColumns, reference: ReferenceRecord): Check[] {
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

interface Print {
  readonly figures: Readonly<Record<string, number>>;
  readonly p?: Readonly<Record<string, number>>;
  readonly decimals: (name: string) => number;
  readonly because?: Readonly<Record<string, string>>;
}

/** A row for every printed chi-square, one for the others, and one for all p-values unless they are printed. */
export function familyChecks(
  columns: ObservationColumns,
  reference: ReferenceRecord,
  print?: Print,
): Check[] {
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
