import type { Answer } from "../../src/base/answer.ts";
import type { CoxOptions } from "../../src/regression/cox-options.ts";
import { coxRegression } from "../../src/regression/cox-regression.ts";
import type { CoxFit } from "../../src/regression/cox-result.ts";
import type { ModelMatrix } from "../../src/regression/model-matrix.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { codeColumn, numberColumn, referenceRows, wholeTicks } from "../reference/reference-files.ts";

/** A model of the columns given, each a term of its own, over all rows in their order. */
export function matrixOf(
  columns: Readonly<Record<string, readonly number[]>>,
  rowCount?: number,
): ModelMatrix {
  const named = Object.entries(columns);
  const rows = rowCount ?? named[0]?.[1].length ?? 0;
  return {
    rows: Int32Array.from({ length: rows }, (_, row) => row),
    columns: named.map(([name, values]) => ({ name, values: Float64Array.from(values) })),
    terms: named.map(([name], from) => ({ name, kind: "number", from, columns: 1 })),
    lost: [],
  };
}

/** Follow-up and model of one fit. */
export interface CoxExample {
  readonly columns: ObservationColumns;
  readonly matrix: ModelMatrix;
}

export function fitted({ columns, matrix }: CoxExample, options?: CoxOptions): CoxFit {
  return present(coxRegression(columns, matrix, options));
}

export function present<Value>(answer: Answer<Value>): Value {
  if (!answer.computed) throw new Error(answer.because);
  return answer;
}

type Row = Readonly<Record<string, string>>;

const known = (rows: readonly Row[], ...names: string[]) =>
  rows.filter((row) => names.every((name) => !["", "NA"].includes(row[name] ?? "")));
const pick = (rows: readonly Row[], ...names: string[]) =>
  Object.fromEntries(names.map((name) => [name, numberColumn(rows, name)]));

/** 6-MP against placebo, 1 for placebo; strata are matched pairs. */
export function freireich(stratified = false): CoxExample {
  const rows = referenceRows("freireich.csv");
  const pairs = [...new Set(rows.map(({ pair }) => pair ?? ""))];
  return {
    columns: {
      exit: numberColumn(rows, "time"),
      event: numberColumn(rows, "status"),
      ...(stratified && { stratum: codeColumn(rows, "pair", pairs) }),
    },
    matrix: matrixOf({ x: rows.map(({ arm }) => (arm === "placebo" ? 1 : 0)) }),
  };
}

/** Cancer of the larynx: stages against the first, age; optionally their products. */
export function larynx(withProducts = false): CoxExample {
  const rows = referenceRows("larynx.csv");
  const age = numberColumn(rows, "age");
  const stages = [2, 3, 4].map((stage) => numberColumn(rows, "stage").map((own) => (own === stage ? 1 : 0)));
  const columns = Object.fromEntries([
    ...stages.map((values, at) => [`stage ${at + 2}`, values]),
    ["age", age],
    ...(withProducts
      ? stages.map((values, at) => [`stage ${at + 2} × age`, values.map((one, row) => one * (age[row] ?? 0))])
      : []),
  ]);
  const plain = matrixOf(columns);
  const terms = [
    { name: "stage", kind: "category", from: 0, columns: 3, reference: "1" },
    { name: "age", kind: "number", from: 3, columns: 1 },
    ...(withProducts ? [{ name: "stage × age", kind: "interaction", from: 4, columns: 3 } as const] : []),
  ] as const;
  return {
    columns: {
      exit: wholeTicks(numberColumn(rows, "time"), 10),
      event: numberColumn(rows, "status"),
    },
    matrix: { ...plain, terms },
  };
}

/** Six rows with closed forms (Therneau and Grambsch 2000, appendix E). */
export function sixRows(): CoxExample {
  const rows = known(referenceRows("cox_test1.csv"), "status");
  return {
    columns: { exit: numberColumn(rows, "time"), event: numberColumn(rows, "status") },
    matrix: matrixOf(pick(rows, "x")),
  };
}

/** Lung cancer: age, sex, performance; clusters are institutions. */
export function lung({ clustered = false, stratified = false } = {}): CoxExample {
  const rows = known(referenceRows("lung.csv"), "inst", "age", "sex", "ecog");
  return {
    columns: {
      exit: numberColumn(rows, "time"),
      event: numberColumn(rows, "status"),
      ...(clustered && { cluster: { codes: numberColumn(rows, "inst"), word: "institution" } }),
      ...(stratified && { stratum: codeColumn(rows, "sex", ["1", "2"]) }),
    },
    matrix: matrixOf(stratified ? pick(rows, "age", "ecog") : pick(rows, "age", "sex", "ecog")),
  };
}

/** Heart transplants: rows cut where the transplant was made; times in half days. */
export function heart(
  names: readonly string[],
  options: { products?: boolean; clustered?: boolean } = {},
): CoxExample {
  const rows = referenceRows("heart.csv");
  const own = pick(rows, ...names);
  const by = numberColumn(rows, "transplant");
  const products = options.products
    ? Object.fromEntries(
        ["age", "surgery"].map((name) => [
          `${name} × transplant`,
          (own[name] ?? []).map((value, row) => value * (by[row] ?? 0)),
        ]),
      )
    : {};
  return {
    columns: {
      entry: wholeTicks(numberColumn(rows, "start"), 2).map((tick) => (tick === 0 ? -1 : tick)),
      exit: wholeTicks(numberColumn(rows, "stop"), 2),
      event: numberColumn(rows, "event"),
      ...(options.clustered && { cluster: { codes: numberColumn(rows, "id"), word: "person" } }),
    },
    matrix: matrixOf({ ...own, ...products }),
  };
}

/** Deaths in monoclonal gammopathy with age as the time scale, in months. */
export function gammopathyByAge(weighted: boolean): CoxExample {
  const rows = referenceRows("mgus2_age_scale.csv");
  const months = (name: string) => numberColumn(rows, name).map((years) => Math.round(years * 12));
  return {
    columns: {
      entry: months("ageIn"),
      exit: months("ageOut"),
      event: numberColumn(rows, "death"),
      ...(weighted && { weight: { kind: "sampling", values: numberColumn(rows, "w") } }),
    },
    matrix: matrixOf(pick(rows, "male", "hgb")),
  };
}

/** Leukaemia maintenance with whole-number weights, as weights or as repeated rows. */
export function leukaemia(repeated: boolean): CoxExample {
  const rows = referenceRows("aml_freq.csv");
  const list = repeated ? rows.flatMap((row) => new Array<Row>(Number(row.w)).fill(row)) : rows;
  return {
    columns: {
      exit: numberColumn(list, "time"),
      event: numberColumn(list, "status"),
      ...(!repeated && { weight: { kind: "copies", values: numberColumn(list, "w") } }),
    },
    matrix: matrixOf(pick(list, "x")),
  };
}

/** All events among rows with x = 1. */
export function monotone(): CoxExample {
  const rows = referenceRows("monotone.csv");
  return {
    columns: { exit: numberColumn(rows, "time"), event: numberColumn(rows, "status") },
    matrix: matrixOf(pick(rows, "x")),
  };
}

/** Infertility, 83 matched sets. */
export function matchedSets(): CoxExample {
  const rows = referenceRows("infert.csv");
  const sets = [...new Set(rows.map(({ stratum }) => stratum ?? ""))];
  return {
    columns: {
      exit: rows.map(() => 1),
      event: numberColumn(rows, "case"),
      stratum: codeColumn(rows, "stratum", sets),
    },
    matrix: matrixOf(pick(rows, "spontaneous", "induced")),
  };
}

/** Age, twice age plus one, a constant, sex. */
export function collinear(): CoxExample {
  const { columns, matrix } = lung();
  const [age, sex] = matrix.columns.map(({ values }) => [...values]);
  return {
    columns,
    matrix: matrixOf({
      age: age ?? [],
      "age twice": (age ?? []).map((one) => 2 * one + 1),
      three: (age ?? []).map(() => 3),
      sex: sex ?? [],
    }),
  };
}

/** Kidney catheters: age and sex, optionally the disease. */
export function kidney(withDisease: boolean): CoxExample {
  const rows = referenceRows("kidney_recurrence.csv");
  const diseases = Object.fromEntries(
    ["GN", "AN", "PKD"].map((name) => [name, rows.map(({ disease }) => (disease === name ? 1 : 0))]),
  );
  return {
    columns: { exit: numberColumn(rows, "time"), event: numberColumn(rows, "status") },
    matrix: matrixOf({ ...pick(rows, "age", "sex"), ...(withDisease && diseases) }),
  };
}

/** Lung cancer of veterans, rows cut after 90 and 180 days, karno by period, baseline by period. */
export function veteranPeriods(): CoxExample {
  const cuts = [0, 90, 180, Number.MAX_SAFE_INTEGER];
  const pieces = referenceRows("veteran.csv").flatMap((row) => {
    const time = Number(row.time);
    return [0, 1, 2].flatMap((period) => {
      const [from = 0, to = 0] = [cuts[period], cuts[period + 1]];
      return time > from ? [{ row, period, from, to: Math.min(time, to), isLast: time <= to }] : [];
    });
  });
  const rows = pieces.map(({ row }) => row);
  const karno = numberColumn(rows, "karno");
  return {
    columns: {
      entry: pieces.map(({ from }) => (from === 0 ? -1 : from)),
      exit: pieces.map(({ to }) => to),
      event: pieces.map(({ row, isLast }) => (isLast ? Number(row.status) : 0)),
      stratum: { codes: pieces.map(({ period }) => period), labels: ["to 90", "to 180", "later"] },
    },
    matrix: matrixOf({
      ...pick(rows, "trt", "prior"),
      ...Object.fromEntries(
        [0, 1, 2].map((own) => [
          `karno, period ${own + 1}`,
          karno.map((value, at) => (pieces[at]?.period === own ? value : 0)),
        ]),
      ),
    }),
  };
}

/** The same with one column of karno for all periods. */
export function veteranTogether(): CoxExample {
  const { columns, matrix } = veteranPeriods();
  const [first, ...others] = matrix.columns.slice(2).map(({ values }) => values);
  const karno = (first ?? new Float64Array()).map((value, at) =>
    others.reduce((sum, own) => sum + (own[at] ?? 0), value),
  );
  return {
    columns,
    matrix: {
      ...matrix,
      columns: [...matrix.columns.slice(0, 2), { name: "karno", values: karno }],
      terms: [...matrix.terms.slice(0, 2), { name: "karno", kind: "number", from: 2, columns: 1 }],
    },
  };
}

/** Kidney catheters with the patient as the cluster; optionally strata of even and odd patients, and every fifth row late. */
export function kidneyByPatient({ withDisease = false, late = false } = {}): CoxExample {
  const { columns, matrix } = kidney(withDisease);
  const codes = numberColumn(referenceRows("kidney_recurrence.csv"), "id");
  const entryOf = (exit: number, row: number) => ((row + 1) % 5 === 0 ? Math.floor(exit / 2) : 0);
  return {
    columns: {
      ...columns,
      cluster: { codes, word: "patient" },
      ...(late && {
        entry: Array.from(columns.exit, entryOf),
        stratum: { codes: codes.map((id) => id % 2), labels: ["even", "odd"] },
      }),
    },
    matrix,
  };
}
