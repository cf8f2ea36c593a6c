import { isPresent } from "../../base/column.ts";
import { dateOfDay } from "../../base/day-number.ts";
import type { Cases } from "../../cases/cases.ts";
import type { ExportField } from "../../cases/descriptor.ts";
import { textAt } from "../../cases/linked-rows.ts";
import type { Pseudonymiser } from "../../cases/pseudonym.ts";
import type { WrittenCells } from "../../cases/written-cells.ts";

/** Text of a field in a row. */
export type CellWriter = (row: number) => string;

/** A field as it is handed on: its description and its cells. */
export interface OutputField {
  readonly field: ExportField;
  readonly cell: CellWriter;
}

/** A field of which the present values become pseudonyms of their kind. */
export function replacedField(
  field: ExportField,
  kind: string,
  cases: Cases,
  written: WrittenCells,
  key: Pseudonymiser,
): OutputField {
  const column = cases.columns.get(field.name);
  const cell = written.get(field.name) ?? (() => "");
  const { categories: _listed, ...rest } = field;
  return {
    field: { ...rest, type: "string" },
    // As the value was read, not as it was spelt: two tables may spell one key in two ways.
    cell: (row) =>
      column !== undefined && isPresent(column, row) ? key.pseudonym(kind, textAt(column, row)) : cell(row),
  };
}

/** A date set to the first of its month or year. */
export function coarseField(
  field: ExportField,
  cases: Cases,
  written: WrittenCells,
  toYear: boolean,
): OutputField {
  const column = cases.columns.get(field.name);
  const cell = written.get(field.name) ?? (() => "");
  const { format: _format, constraints, ...rest } = field;
  const { minimum: _minimum, maximum: _maximum, ...kept } = constraints ?? {};
  return {
    field: { ...rest, ...(constraints && { constraints: kept }) },
    cell: (row) => {
      if (column?.kind !== "day" || column.missing[row] !== 0) return cell(row);
      const date = dateOfDay(column.values[row] ?? 0);
      return toYear ? `${date.slice(0, 4)}-01-01` : `${date.slice(0, 7)}-01`;
    },
  };
}

/** What a field's pseudonyms are of: a patient and a case of one number stay apart. */
export function kindOfKey({ role, name }: ExportField): string {
  return role ?? name;
}
