import { dayNumber } from "../../base/day-number.ts";

/** What the text of a cell could be. */
export const CELL_SHAPES = [
  "blank",
  "missingWord",
  "isoDate",
  "dateFirstPartDay",
  "dateSecondPartDay",
  "dateEitherOrder",
  "dateTwoDigitYear",
  "dateShortParts",
  "dateWithTime",
  "whole",
  "code",
  "decimalPoint",
  "decimalComma",
  "text",
] as const;
export type CellShape = (typeof CELL_SHAPES)[number];

/** Words that say a value is missing, in several languages; none means anything else in a case export. */
const MISSING_WORDS = new Set(
  [
    "na n/a #n/a nan null nil . - -- ? missing unknown unk unbekannt inconnu",
    "not recorded|not known|nicht bekannt|keine angabe|k.a.|k. a.|non renseigné|non renseigne|nr|nd|inconnue",
  ].flatMap((words, at) => words.split(at === 0 ? " " : "|")),
);

const NUMERIC_DATE = /^(\d{1,4})([./-])(\d{1,2})\2(\d{1,4})$/;
/** Whole numbers longer than this, or with zeros in front, are names and no amounts. */
const MOST_DIGITS = 15;

export function isMissingWord(text: string): boolean {
  return MISSING_WORDS.has(text.trim().toLowerCase());
}

export function cellShape(text: string): CellShape {
  const trimmed = text.trim();
  if (trimmed === "") return "blank";
  if (isMissingWord(trimmed)) return "missingWord";
  if (/^-?\d+$/.test(trimmed))
    return /^-?0\d/.test(trimmed) || trimmed.length > MOST_DIGITS ? "code" : "whole";
  if (/^-?\d+\.\d+$/.test(trimmed)) return "decimalPoint";
  if (/^-?\d+,\d+$/.test(trimmed)) return "decimalComma";
  return dateShape(trimmed) ?? "text";
}

function dateShape(text: string): CellShape | undefined {
  if (dayNumber(text) !== undefined) return "isoDate";
  if (/^\d{1,4}[./-]\d{1,2}[./-]\d{1,4}[T ]\d{1,2}:\d{2}/.test(text)) return "dateWithTime";
  const parts = NUMERIC_DATE.exec(text);
  if (parts === null) return undefined;
  const [first = "", second = "", third = ""] = [parts[1], parts[3], parts[4]];
  // Year first: other marks than ISO's are a format of their own.
  if (first.length === 4) return isDay(Number(second), Number(third)) ? "isoDate" : undefined;
  const [one, two] = [Number(first), Number(second)];
  if (!isDay(one, two) && !isDay(two, one)) return undefined;
  if (third.length === 2) return "dateTwoDigitYear";
  if (third.length !== 4) return undefined;
  if (first.length !== 2 || second.length !== 2) return "dateShortParts";
  if (one > 12) return "dateFirstPartDay";
  return two > 12 ? "dateSecondPartDay" : "dateEitherOrder";
}

function isDay(month: number, day: number): boolean {
  return month >= 1 && month <= 12 && day >= 1 && day <= 31;
}

/** The mark between the parts of a numeric date, or undefined where the text is none. */
export function dateMark(text: string): string | undefined {
  return NUMERIC_DATE.exec(text.trim())?.[2];
}
