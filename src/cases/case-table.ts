import { type ColumnTable, table } from "arquero";
import { type Column, isPresent } from "../base/column.ts";
import { dateOfDay } from "../base/day-number.ts";
import { ArgumentError } from "../base/errors.ts";
import type { Cases } from "./cases.ts";

/** A cell as notebooks see it: dates as ISO text, codes as the words of the file, missing as null. */
export type CellValue = string | number | null;
/** One row of the case table. Asking for a field that the table does not have throws. */
export type CaseRow = Readonly<Record<string, CellValue>>;

/**
 * The cases as an arquero table, to query and reshape in a notebook.
 *
 * Every field is a column of the same name. Dates are ISO text, so that no time zone can move them; codes are the
 * words of the file; missing is null whatever the reason (the reasons stay in `cases.columns`). A misspelt column
 * inside arquero's own expressions is not noticed there: use `rowsWhere` and `caseRows`, which refuse it.
 *
 * @example
 * const people = caseTable(await readCases("data/mgus2/datapackage.json"));
 * people.numRows(); // 1,384
 */
export function caseTable(cases: Cases): ColumnTable {
  const columns = [...cases.columns].map(([field, column]): [string, CellValue[]] => [field, cells(column)]);
  return table(columns);
}

/** The rows of a table for which the condition holds. Asking a row for an unknown column throws ArgumentError. */
export function rowsWhere(cases: ColumnTable, condition: (row: CaseRow) => boolean): ColumnTable {
  const kept: number[] = [];
  let place = 0;
  for (const row of caseRows(cases)) {
    if (condition(row)) kept.push(place);
    place += 1;
  }
  const columns = cases.columnNames().map((name): [string, unknown[]] => {
    const values = Array.from(cases.array(name));
    return [name, kept.map((at) => values[at])];
  });
  return table(columns);
}

/** The rows of a table, one after the other, as views that refuse unknown columns. */
export function* caseRows(cases: ColumnTable): Generator<CaseRow> {
  const names = cases.columnNames();
  const known = new Set(names);
  for (const row of cases.objects({ limit: Infinity })) yield strict(row, known);
}

function strict(row: object, known: ReadonlySet<string>): CaseRow {
  const view = new Proxy(row, {
    get(target, name) {
      if (typeof name === "string" && !known.has(name)) {
        throw new ArgumentError(
          `case table: there is no column "${name}"; accepted: ${[...known].join(", ")} (check the spelling)`,
        );
      }
      return Reflect.get(target, name);
    },
  });
  // The table was made of CellValue columns only.
  return view as CaseRow;
}

function cells(column: Column): CellValue[] {
  const cell = cellReader(column);
  return Array.from(column.missing, (_, row) => (isPresent(column, row) ? cell(row) : null));
}

function cellReader(column: Column): (row: number) => CellValue {
  switch (column.kind) {
    case "day":
      return (row) => dateOfDay(column.values[row] ?? 0);
    case "code":
      return (row) => column.codes[column.values[row] ?? 0] ?? null;
    default:
      return (row) => column.values[row] ?? null;
  }
}
