import { type Column, missingReason } from "../base/column.ts";
import { ArgumentError } from "../base/errors.ts";
import type { ModelColumn, ModelMatrix, ModelTerm, RowsLost } from "./model-matrix.ts";
import { requireFewColumns } from "./most-columns.ts";
import { type ColumnOf, columnLookup, type NamedColumns, tableRows } from "./term-columns.ts";
import type { TermPlan } from "./term-plan.ts";

export interface ModelMatrixOptions {
  /** Rows of the table to use, ascending and counted from 0. Default all. */
  readonly rows?: ArrayLike<number>;
}

/**
 * The covariates of a model as named columns, and the rows it cannot use with the reason.
 *
 * A row with a missing value in any term is left out of all of them and counted once, under the first term and reason
 * that apply in the order given. Nothing is filled in.
 *
 * @example
 * const age: Column = { kind: "number", field: "age", values: Float64Array.of(61, 70), missing: Uint8Array.of(0, 1), missingReasons: ["not recorded"] };
 * modelMatrix([age], [numberTerm("age")]).lost; // [{ term: "age", reason: "not recorded", rows: 1 }]
 *
 * @throws ArgumentError for a column the table lacks, a value that is not finite, a category of which one level is
 * left, a reference that does not occur, two terms of one name, and more than 500 columns.
 */
export function modelMatrix(
  table: NamedColumns,
  terms: readonly TermPlan[],
  options: ModelMatrixOptions = {},
): ModelMatrix {
  requireDifferentNames("terms", terms);
  const columnOf = columnLookup(table);
  const { rows, lost } = usableRows(terms, columnOf, candidateRows(tableRows(table), options.rows));
  const columns: ModelColumn[] = [];
  const placed = terms.map((plan): ModelTerm => {
    const { columns: own, ...rest } = plan.build(columnOf, rows);
    const from = columns.length;
    columns.push(...own);
    return { name: plan.name, kind: plan.kind, from, columns: own.length, ...rest };
  });
  requireDifferentNames("columns", columns);
  requireFewColumns("the terms together", columns.length);
  return { rows, columns, terms: placed, lost };
}

function candidateRows(count: number, chosen: ArrayLike<number> | undefined): Int32Array {
  if (chosen === undefined) return Int32Array.from({ length: count }, (_, row) => row);
  const rows = new Int32Array(chosen.length);
  for (let at = 0; at < rows.length; at += 1) {
    const row = chosen[at];
    if (row === undefined || !Number.isInteger(row) || row >= count || row <= (rows[at - 1] ?? -1)) {
      throw new ArgumentError(
        `modelMatrix: rows must be whole numbers from 0 up to ${count - 1}, ascending; see element ${at + 1}`,
      );
    }
    rows[at] = row;
  }
  return rows;
}

interface Need {
  readonly term: string;
  readonly column: Column;
}

function usableRows(terms: readonly TermPlan[], columnOf: ColumnOf, candidates: Int32Array) {
  const needs = terms.flatMap(({ name, needs: of }): Need[] =>
    of(columnOf).map((column) => ({ term: name, column })),
  );
  const counts = new Map<string, RowsLost>();
  const rows = candidates.filter((row) => {
    const missing = needs.find(({ column }) => column.missing[row] !== 0);
    if (missing === undefined) return true;
    const { term } = missing;
    const reason = missingReason(missing.column, row) ?? "";
    const key = JSON.stringify([term, reason]);
    counts.set(key, { term, reason, rows: (counts.get(key)?.rows ?? 0) + 1 });
    return false;
  });
  return { rows, lost: [...counts.values()] };
}

function requireDifferentNames(what: string, items: readonly { readonly name: string }[]): void {
  const names = new Set<string>();
  for (const { name } of items) {
    if (names.has(name)) {
      throw new ArgumentError(`modelMatrix: two ${what} are called "${name}"; give one another word`);
    }
    names.add(name);
  }
}
