import { dateOfDay, requiredDayNumber } from "../base/day-number.ts";
import type { ExportField } from "../cases/descriptor.ts";
import type { FieldRole } from "../cases/roles.ts";
import { DATA_CUT, FIRST_OPERATION_DATE } from "./planted-truth.ts";
import { NO_DAY } from "./recording.ts";

/** One field of the file: its dictionary entry beside the text of its cells, so that they cannot part. */
export interface ExportColumn {
  readonly field: ExportField;
  readonly cell: (row: number) => string;
}

/** What a field is called, what it stands for, and what it means. */
export interface Naming {
  readonly name: string;
  readonly role?: FieldRole;
  readonly title: string;
  readonly description: string;
}

type Constraints = NonNullable<ExportField["constraints"]>;
type Category = NonNullable<ExportField["categories"]>[number];
type CodeList = readonly (readonly [word: string, label: string, share?: number])[];
type MissingReasons = readonly { readonly value: string; readonly label: string }[];

/** A field of free codes that is filled in every row. */
export function textColumn(
  naming: Naming,
  cell: (row: number) => string,
  constraints: Constraints = {},
): ExportColumn {
  return { field: { ...naming, type: "string", constraints: { required: true, ...constraints } }, cell };
}

/** A field of numbers that is filled in every row. */
export function numberColumn(
  naming: Naming,
  type: "integer" | "number",
  unit: string,
  limits: { readonly minimum: number; readonly maximum: number },
  cell: (row: number) => string,
): ExportColumn {
  return { field: { ...naming, type, unit, constraints: { required: true, ...limits } }, cell };
}

/** A field whose words come from a closed list; `place` says which of them a row holds. */
export function codedColumn(naming: Naming, codes: CodeList, place: (row: number) => number): ExportColumn {
  const categories: Category[] = codes.map(([value, label]) => ({ value, label }));
  const words = codes.map(([word]) => word);
  return {
    field: { ...naming, type: "string", categories, constraints: { required: true } },
    cell: (row) => at(words, place(row)),
  };
}

/** The same column, with a labelled word where `missing` says that the value is absent (0 = present). */
export function withMissing(
  column: ExportColumn,
  reasons: MissingReasons,
  missing: (row: number) => number,
): ExportColumn {
  const { constraints, ...field } = column.field;
  const { required: _, ...others } = constraints ?? {};
  const missingValues = reasons.map(({ value, label }) => ({ value, label }));
  const words = missingValues.map(({ value }) => value);
  return {
    field: { ...field, missingValues, ...(Object.keys(others).length > 0 ? { constraints: others } : {}) },
    cell: (row) => {
      const reason = missing(row);
      return reason === 0 ? column.cell(row) : at(words, reason - 1);
    },
  };
}

/** A field of ISO dates; `blankMeans` says what an empty cell stands for, where cells can be empty. */
export function dateColumn(
  naming: Naming,
  days: Int32Array,
  options: { readonly blankMeans?: string; readonly constraints?: Constraints } = {},
): ExportColumn {
  const { blankMeans, constraints } = options;
  return {
    field: {
      ...naming,
      type: "date",
      ...(blankMeans === undefined ? {} : { missingValues: [{ value: "", label: blankMeans }] }),
      ...(constraints === undefined ? {} : { constraints }),
    },
    cell: (row) => {
      const day = days[row] ?? NO_DAY;
      return day === NO_DAY ? "" : at(DATE_TEXTS, day - FIRST_DAY);
    },
  };
}

const FIRST_DAY = requiredDayNumber(FIRST_OPERATION_DATE, "FIRST_OPERATION_DATE");
const DAYS = requiredDayNumber(DATA_CUT, "DATA_CUT") - FIRST_DAY + 1;

// Writing a date costs a calendar calculation, and a file of a million knees holds the same 6,210 days over and over.
const DATE_TEXTS = Array.from({ length: DAYS }, (_, day) => dateOfDay(FIRST_DAY + day));

/** Entry of a list at a place that must be in it. */
export function at(words: readonly string[], place: number): string {
  const word = words[place];
  if (word === undefined) throw new RangeError(`no word at place ${place} of ${words.length}`);
  return word;
}
