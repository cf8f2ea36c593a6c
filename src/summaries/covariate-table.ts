import { type Answer, computed, notComputed } from "../base/answer.ts";
import type { Column } from "../base/column.ts";
import { ArgumentError } from "../base/errors.ts";
import { type CellCount, countCells, type TableRows, tableRows } from "./covariate-cells.ts";
import { describeNumbers, type NumberSummary } from "./describe-numbers.ts";
import {
  differenceOfSummaries,
  type StandardisedDifference,
  standardisedCategoryDifference,
} from "./standardised-difference.ts";

/** One covariate and the words shown for it. */
export interface Covariate {
  readonly label: string;
  readonly column: Column;
}

export interface CovariateTableInput {
  readonly covariates: readonly Covariate[];
  /** Rows of the columns that belong in the table. */
  readonly rows: ArrayLike<number>;
  /** The group of each of these rows, as an index into `labels`. */
  readonly group: { readonly codes: ArrayLike<number>; readonly labels: readonly string[] };
  /** The person who owns each of these rows, as whole numbers from 0 up. Default: each row a person of its own. */
  readonly persons?: ArrayLike<number>;
}

/** Missing values of one reason, per group. */
export interface MissingCounts {
  readonly reason: string;
  readonly groups: readonly CellCount[];
}

/** Two groups, first minus second. */
export interface PairDifference {
  readonly groups: readonly [number, number];
  readonly difference: StandardisedDifference;
}

interface CovariateBase {
  readonly label: string;
  readonly field: string;
  /** Rows that hold a value, per group. */
  readonly present: readonly CellCount[];
  /** By reason, in the order of the dictionary; reasons never met are left out. */
  readonly missing: readonly MissingCounts[];
  /** Each pair of groups. Missing values take no part. */
  readonly differences: readonly PairDifference[];
  /** Size of the largest of them; no answer where any pair has none, because that pair may be the furthest apart. */
  readonly largest: Answer<{ readonly value: number; readonly groups: readonly [number, number] }>;
}

/** `kind` "day" holds day numbers since 1970-01-01. */
export interface NumberCovariate extends CovariateBase {
  readonly kind: "number" | "day";
  readonly summaries: readonly NumberSummary[];
}

export interface CodeCovariate extends CovariateBase {
  readonly kind: "code";
  /** Every code of the column, also those never met. Shares are of the rows present. */
  readonly categories: readonly {
    readonly label: string;
    readonly groups: readonly (CellCount & { readonly share: Answer<{ readonly value: number }> })[];
  }[];
}

export type CovariateRow = NumberCovariate | CodeCovariate;

export interface CovariateTable {
  readonly kind: "covariateTable";
  readonly groups: readonly (CellCount & { readonly label: string })[];
  readonly covariates: readonly CovariateRow[];
}

/**
 * What the groups looked like before anything happened to them, and how far apart they were.
 *
 * Numbers and days: mean, standard deviation (n − 1), median and quartiles (type 7). Codes: counts and shares of the
 * rows present. Missing values are counted by reason, never mixed in. Standardised differences for each pair of groups
 * take the place of tests: whether groups differ by chance is no question about groups that chance did not make.
 *
 * @throws ArgumentError for text columns, or where rows, groups and persons are not of one length.
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(60, 62, 70, 71), missing: new Uint8Array(4), missingReasons: [] } as const;
 * covariateTable({
 *   covariates: [{ label: "Age", column: x }],
 *   rows: [0, 1, 2, 3],
 *   group: { codes: [0, 0, 1, 1], labels: ["a", "b"] },
 * }).covariates[0]; // median 61 and 70.5; standardised difference −8.50
 */
export function covariateTable(input: CovariateTableInput): CovariateTable {
  const { rows, group, persons } = input;
  const ordered = tableRows(rows, group.codes, group.labels.length, persons);
  const sizes = countCells(ordered, 1, () => 0)[0] ?? [];
  return {
    kind: "covariateTable",
    groups: group.labels.map((label, at) => ({ label, ...(sizes[at] ?? { units: 0, persons: 0 }) })),
    covariates: input.covariates.map((covariate) => covariateRow(covariate, ordered)),
  };
}

function covariateRow({ label, column }: Covariate, rows: TableRows): CovariateRow {
  if (column.kind === "text") {
    throw new ArgumentError(
      `covariateTable: field "${column.field}" is text, which has neither numbers nor codes`,
    );
  }
  const base = { label, field: column.field, ...presence(column, rows) };
  return column.kind === "code" ? codeCovariate(column, base, rows) : numberCovariate(column, base, rows);
}

function presence(column: Column, rows: TableRows): Pick<CovariateBase, "present" | "missing"> {
  // One place more than the reasons given: a mark beyond them is a reason that nobody stated.
  const places = column.missingReasons.length + 2;
  const counts = countCells(rows, places, (row) => Math.min(column.missing[row] ?? 0, places - 1));
  const missing = counts
    .slice(1)
    .map((groups, at) => ({ reason: column.missingReasons[at] ?? "no reason stated", groups }))
    .filter(({ groups }) => groups.some(({ units }) => units > 0));
  return { present: counts[0] ?? [], missing };
}

type Base = Pick<CovariateBase, "label" | "field" | "present" | "missing">;

function numberCovariate(
  column: Extract<Column, { kind: "number" | "day" }>,
  base: Base,
  rows: TableRows,
): NumberCovariate {
  const values = base.present.map(({ units }) => new Float64Array(units));
  const filled = values.map(() => 0);
  for (let at = 0; at < rows.rows.length; at += 1) {
    // In range: rows are rows of the column, and the codes were checked when they were counted.
    const row = rows.rows[at]!;
    if (column.missing[row] !== 0) continue;
    const group = rows.groups[at]!;
    values[group]![filled[group]!++] = column.values[row]!;
  }
  const summaries = values.map((list, group) =>
    describeNumbers(list, { missing: unitsMissing(base.missing, group) }),
  );
  const differences = pairs(values.length).map((groups) => ({
    groups,
    // In range: a summary per group.
    difference: differenceOfSummaries(summaries[groups[0]]!, summaries[groups[1]]!),
  }));
  return { ...base, kind: column.kind, summaries, differences, largest: largestOf(differences) };
}

function codeCovariate(
  column: Extract<Column, { kind: "code" }>,
  base: Base,
  rows: TableRows,
): CodeCovariate {
  const counts = countCells(rows, column.codes.length, (row) =>
    column.missing[row] === 0 ? (column.values[row] ?? -1) : -1,
  );
  const unitsOf = (group: number) => counts.map((groups) => groups[group]?.units ?? 0);
  const differences = pairs(rows.groupCount).map((groups) => ({
    groups,
    difference: standardisedCategoryDifference(unitsOf(groups[0]), unitsOf(groups[1])),
  }));
  const categories = column.labels.map((label, code) => ({
    label,
    groups: (counts[code] ?? []).map((cell, group) => ({
      ...cell,
      share: shareOf(cell.units, base.present[group]?.units ?? 0),
    })),
  }));
  return { ...base, kind: "code", categories, differences, largest: largestOf(differences) };
}

function shareOf(units: number, whole: number): Answer<{ readonly value: number }> {
  return whole === 0 ? notComputed("no-values", "no values") : computed({ value: units / whole });
}

function unitsMissing(missing: readonly MissingCounts[], group: number): number {
  return missing.reduce((sum, { groups }) => sum + (groups[group]?.units ?? 0), 0);
}

function pairs(groupCount: number): (readonly [number, number])[] {
  const all = Array.from({ length: groupCount }, (_, group) => group);
  return all.flatMap((first) => all.slice(first + 1).map((second) => [first, second] as const));
}

function largestOf(differences: readonly PairDifference[]): CovariateBase["largest"] {
  let largest: { value: number; groups: readonly [number, number] } | undefined;
  for (const { groups, difference } of differences) {
    if (!difference.computed) return difference;
    const value = Math.abs(difference.value);
    if (largest === undefined || value > largest.value) largest = { value, groups };
  }
  return largest === undefined ? notComputed("one-group", "one group only") : computed(largest);
}
