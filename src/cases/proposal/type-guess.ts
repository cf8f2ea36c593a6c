import type { FIELD_TYPES } from "../descriptor.ts";
import { CELL_SHAPES, isMissingWord } from "./cell-shape.ts";
import { type ColumnProfile, LEAST_ROWS_SHOWN } from "./column-profile.ts";
import type { DateOrder } from "./date-order.ts";

/** Stands in a proposal where the file does not say, and a person must. */
export const OPEN = "?";

export interface TypeGuess {
  readonly type: (typeof FIELD_TYPES)[number];
  /** Of a date; "?" where the order could not be decided. */
  readonly format?: string;
  readonly decimalChar?: ",";
  readonly evidence: readonly string[];
  /** What a person must decide or mend before the column can be read. */
  readonly open: readonly string[];
}

/** A column is of a type when so large a part of its values is; the others become findings when it is read. */
const MOSTLY = 0.9;

export function typeGuess(column: ColumnProfile, order: DateOrder): TypeGuess {
  const guess = mainGuess(column, order);
  const strange = strangeCells(column, guess.type);
  if (strange === 0) return guess;
  const open = `${strange} values are not: mend them, or list their words as missing values`;
  return { ...guess, open: [...guess.open, open] };
}

/** Cells that are not of the type and have no word that many rows share, which would be a missing value. */
function strangeCells(column: ColumnProfile, type: TypeGuess["type"]): number {
  if (type === "string") return 0;
  const { shapes, present } = column;
  const isDate = type === "date";
  const fitting = CELL_SHAPES.filter((shape) =>
    isDate ? /date/i.test(shape) : ["whole", "decimalPoint", "decimalComma"].includes(shape),
  ).reduce((sum, shape) => sum + shapes[shape], 0);
  return present - fitting - sharedTexts(column).reduce((sum, [, rows]) => sum + rows, 0);
}

/** Texts without a digit that so many rows share that they describe no one: "not measured" among numbers. */
export function sharedTexts({ words }: ColumnProfile): readonly (readonly [string, number])[] {
  return [...(words ?? [])].filter(
    ([word, rows]) =>
      rows >= LEAST_ROWS_SHOWN && !/\d/.test(word) && word.trim() !== "" && !isMissingWord(word),
  );
}

function mainGuess(column: ColumnProfile, order: DateOrder): TypeGuess {
  const { shapes, present } = column;
  if (present === 0) return { type: "string", evidence: ["no cell is filled"], open: [] };
  const numericDates = shapes.dateFirstPartDay + shapes.dateSecondPartDay + shapes.dateEitherOrder;
  const unreadDates = shapes.dateTwoDigitYear + shapes.dateShortParts + shapes.dateWithTime;
  const dates = shapes.isoDate + numericDates + unreadDates;
  if (dates >= MOSTLY * present) return dateGuess(column, order, numericDates, unreadDates);
  const decimals = shapes.decimalPoint + shapes.decimalComma;
  const numbers = shapes.whole + decimals;
  if (numbers >= MOSTLY * present) return numberGuess(column, numbers);
  return { type: "string", evidence: [textEvidence(column)], open: [] };
}

function dateGuess(
  column: ColumnProfile,
  { order, evidence }: DateOrder,
  numericDates: number,
  unreadDates: number,
): TypeGuess {
  const { shapes, present, dateMarks } = column;
  const counted = share(shapes.isoDate + numericDates + unreadDates, present, "dates");
  const open: string[] = [];
  if (shapes.dateTwoDigitYear > 0)
    open.push(
      `${shapes.dateTwoDigitYear} years have two digits: write %y in "format" and state "twoDigitYearsFrom"`,
    );
  if (shapes.dateShortParts > 0)
    open.push(
      `${shapes.dateShortParts} days or months have one digit, which is not read: export them with two`,
    );
  if (shapes.dateWithTime > 0)
    open.push(`${shapes.dateWithTime} dates have a time of day: export whole days`);
  if (dateMarks.length > 1)
    open.push(`dates are written with ${dateMarks.length} different marks: export them in one form`);
  const forms = [shapes.isoDate, numericDates].filter((cells) => cells > 0).length;
  if (forms > 1) open.push("dates are written year first and year last: export them in one form");
  const [mark = "-"] = dateMarks;
  if (unreadDates === 0 && numericDates === 0) {
    const format = mark === "-" ? "default" : `%Y${mark}%m${mark}%d`;
    return { type: "date", format, evidence: [counted, "year first"], open };
  }
  const isDecided = order === "dayFirst" || order === "monthFirst";
  if (!isDecided) open.push('state the order of day and month under "format", such as "%d.%m.%Y"');
  const year = shapes.dateTwoDigitYear > 0 ? "%y" : "%Y";
  const [one, two] = order === "monthFirst" ? ["%m", "%d"] : ["%d", "%m"];
  return {
    type: "date",
    format: isDecided && open.length === 0 ? [one, two, year].join(mark) : OPEN,
    evidence: [counted, ...(evidence === "" ? [] : [evidence])],
    open,
  };
}

function numberGuess(column: ColumnProfile, numbers: number): TypeGuess {
  const { shapes, present } = column;
  const counted = share(numbers, present, "numbers");
  if (shapes.decimalPoint + shapes.decimalComma === 0)
    return { type: "integer", evidence: [counted, "all whole"], open: [] };
  const comma = { type: "number", decimalChar: ",", evidence: [counted, "decimal comma"], open: [] } as const;
  if (shapes.decimalPoint === 0) return comma;
  const point = { type: "number", evidence: [counted, "decimal point"], open: [] } as const;
  if (shapes.decimalComma === 0) return point;
  return {
    ...(shapes.decimalComma > shapes.decimalPoint ? comma : point),
    open: [
      `${shapes.decimalPoint} numbers have a point and ${shapes.decimalComma} a comma: which is the decimal mark cannot be told`,
    ],
  };
}

function textEvidence({ words, present, allDifferent, shapes }: ColumnProfile): string {
  if (allDifferent) return `${present} values, no two of them equal`;
  const codes = shapes.code > 0 ? `, ${shapes.code} of them digits with zeros in front or very long` : "";
  return words === undefined
    ? `${present} values of very many kinds${codes}`
    : `${present} values of ${[...words.keys()].filter((word) => !isMissingWord(word)).length} kinds${codes}`;
}

function share(count: number, of: number, what: string): string {
  return count === of ? `all ${of} values are ${what}` : `${count} of ${of} values are ${what}`;
}
