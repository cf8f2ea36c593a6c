import { CELL } from "./cell-status.ts";

/** Declared missing values of a field: the k-th counts from 1. `blank` is the reason of an empty cell. */
export interface MissingWords {
  readonly words: readonly string[];
  readonly blank: number;
}

/** How the texts of one column become what a query answers. */
export interface ColumnSql {
  /** The cast that both answers build on; absent where the text itself is wanted. */
  readonly parsed?: string;
  /** The answers, given the text under the column's name and the cast under `parsedName`. */
  readonly answers: readonly string[];
}

/** The name of a column inside the query: names of the file could clash there in upper and lower case. */
export function columnName(position: number): string {
  return `c${position}`;
}

export function parsedName(position: number): string {
  return `v${position}`;
}

export function quoted(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}

/**
 * Day and cell status.
 *
 * A date must come back as it went in, so that 30 February, one-digit months, "infinity" and dates before the
 * common era are refused, not moved.
 */
export function dayColumnSql(position: number, format: string, missing: MissingWords): ColumnSql {
  const isIso = format === "default";
  return columnSql(position, missing, {
    parse: (text) =>
      isIso ? `try_cast(${text} AS DATE)` : `try_cast(try_strptime(${text}, ${quoted(format)}) AS DATE)`,
    isFaithful: (value, text) =>
      isIso
        ? `strlen(${text}) = 10 AND CAST(${value} AS VARCHAR) = ${text}`
        : `strftime(${value}, ${quoted(format)}) = ${text}`,
    placeholder: "DATE '1970-01-01'",
    otherFaults: (text) => `WHEN regexp_full_match(${text}, '[0-9]{5}([.]0+)?') THEN ${CELL.serialNumber}`,
  });
}

/** Plain decimal number and cell status: no exponent, no mark between thousands, no sign of currency. */
export function numberColumnSql(
  position: number,
  options: { readonly decimalChar: string; readonly whole: boolean },
  missing: MissingWords,
): ColumnSql {
  const fraction = options.whole ? "" : `([${options.decimalChar}][0-9]+)?`;
  const pointed = (text: string) =>
    options.decimalChar === "." ? text : `replace(${text}, ${quoted(options.decimalChar)}, '.')`;
  return columnSql(position, missing, {
    parse: (text) =>
      `CASE WHEN regexp_full_match(${text}, '-?[0-9]+${fraction}') THEN try_cast(${pointed(text)} AS DOUBLE) END`,
    // Above this, neighbouring whole numbers become one: such a column holds names, not amounts.
    isFaithful: (value) =>
      options.whole ? `abs(${value}) <= ${Number.MAX_SAFE_INTEGER}` : `isfinite(${value})`,
    placeholder: "0::DOUBLE",
    otherFaults: () => "",
  });
}

/** The text as it stands in the file. */
export function textColumnSql(position: number): ColumnSql {
  return { answers: [columnName(position)] };
}

/** Stands for whatever is not in the list of words; no line of a file can hold it beside a listed word. */
export const UNLISTED = "\u0001";

/** The place of the text in a list of at most 254 words, or of `UNLISTED` behind them. */
export function listedColumnSql(position: number, words: readonly string[]): ColumnSql {
  const text = columnName(position);
  const listed = words.map(quoted).join(", ");
  const list = `ENUM(${listed}, ${quoted(UNLISTED)})`;
  return {
    answers: [`CAST(CASE WHEN ${text} IN (${listed}) THEN ${text} ELSE ${quoted(UNLISTED)} END AS ${list})`],
  };
}

interface Parsing {
  readonly parse: (text: string) => string;
  readonly isFaithful: (value: string, text: string) => string;
  /** What stands in the value array beside a missing mark. */
  readonly placeholder: string;
  readonly otherFaults: (text: string) => string;
}

/**
 * The sound cell comes first and cheaply; only what fails there is trimmed and tried again. Blanks are kept from the
 * cast, because a cast that fails costs ten times one that succeeds.
 */
function columnSql(position: number, missing: MissingWords, parsing: Parsing): ColumnSql {
  const { parse, isFaithful, placeholder, otherFaults } = parsing;
  const text = columnName(position);
  const value = parsedName(position);
  const trimmed = `trim(${text})`;
  const sound = `coalesce(${isFaithful(value, text)}, false)`;
  const soundTrimmed = `coalesce(${isFaithful(parse(trimmed), trimmed)}, false)`;
  const values = `CASE WHEN ${sound} THEN ${value}
    WHEN ${text} <> ${trimmed} AND ${soundTrimmed} THEN ${parse(trimmed)}
    ELSE ${placeholder} END`;
  const status = `CAST(CASE WHEN ${text} = '' THEN ${missing.blank}
    ${missingBranches(text, missing)}
    WHEN ${sound} THEN ${CELL.present}
    ELSE CASE WHEN ${trimmed} = '' THEN ${missing.blank}
      ${missingBranches(trimmed, missing)}
      ${otherFaults(trimmed)}
      WHEN ${soundTrimmed} THEN ${CELL.spacesAround}
      ELSE ${CELL.unreadable} END
    END AS UTINYINT)`;
  return { parsed: parse(`nullif(${text}, '')`), answers: [values, status] };
}

/** Before the cast, because a word such as 9999-12-31 or 999 would pass for a value. */
function missingBranches(text: string, { words }: MissingWords): string {
  return words
    .map((word, index) => ({ word: word.trim(), reason: index + 1 }))
    .filter(({ word }) => word !== "")
    .map(({ word, reason }) => `WHEN ${text} = ${quoted(word)} THEN ${reason}`)
    .join(" ");
}
