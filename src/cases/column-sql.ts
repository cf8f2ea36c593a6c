import { CELL } from "./cell-status.ts";

/** Declared missing values of a field: the k-th counts from 1. `blank` is the reason of an empty cell. */
export interface MissingWords {
  readonly words: readonly string[];
  readonly blank: number;
}

export function quoted(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}

/**
 * Query for a column of days: value and cell status.
 *
 * A date must come back as it went in, so that 30 February, one-digit months, "infinity" and dates before the
 * common era are refused, not moved.
 */
export function dayColumnSql(column: string, format: string, missing: MissingWords): string {
  const isIso = format === "default";
  return columnSql(column, missing, {
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

/** Query for a column of plain decimal numbers: no exponent, no mark between thousands, no sign of currency. */
export function numberColumnSql(
  column: string,
  options: { readonly decimalChar: string; readonly whole: boolean },
  missing: MissingWords,
): string {
  const fraction = options.whole ? "" : `([${options.decimalChar}][0-9]+)?`;
  const pointed = (text: string) =>
    options.decimalChar === "." ? text : `replace(${text}, ${quoted(options.decimalChar)}, '.')`;
  return columnSql(column, missing, {
    parse: (text) =>
      `CASE WHEN regexp_full_match(${text}, '-?[0-9]+${fraction}') THEN try_cast(${pointed(text)} AS DOUBLE) END`,
    // Above this, neighbouring whole numbers become one: such a column holds names, not amounts.
    isFaithful: (value) =>
      options.whole ? `abs(${value}) <= ${Number.MAX_SAFE_INTEGER}` : `isfinite(${value})`,
    placeholder: "0::DOUBLE",
    otherFaults: () => "",
  });
}

interface Parsing {
  readonly parse: (text: string) => string;
  readonly isFaithful: (value: string, text: string) => string;
  /** What stands in the value array beside a missing mark. */
  readonly placeholder: string;
  readonly otherFaults: (text: string) => string;
}

/**
 * Value and status of each cell. The sound cell comes first and cheaply; only what fails there is trimmed and tried again.
 * Blanks are kept from the cast, because a cast that fails costs ten times one that succeeds.
 */
function columnSql(column: string, missing: MissingWords, parsing: Parsing): string {
  const { parse, isFaithful, placeholder, otherFaults } = parsing;
  const trimmed = "trim(x)";
  const sound = `coalesce(${isFaithful("v", "x")}, false)`;
  const soundTrimmed = `coalesce(${isFaithful(parse(trimmed), trimmed)}, false)`;
  return `
    SELECT
      CASE WHEN ${sound} THEN v
        WHEN x <> ${trimmed} AND ${soundTrimmed} THEN ${parse(trimmed)}
        ELSE ${placeholder} END,
      CAST(CASE WHEN x = '' THEN ${missing.blank}
        ${missingBranches("x", missing)}
        WHEN ${sound} THEN ${CELL.present}
        ELSE CASE WHEN ${trimmed} = '' THEN ${missing.blank}
          ${missingBranches(trimmed, missing)}
          ${otherFaults(trimmed)}
          WHEN ${soundTrimmed} THEN ${CELL.spacesAround}
          ELSE ${CELL.unreadable} END
        END AS UTINYINT)
    FROM (SELECT x, ${parse("nullif(x, '')")} AS v FROM (SELECT ${column} AS x FROM raw))`;
}

/** Before the cast, because a word such as 9999-12-31 or 999 would pass for a value. */
function missingBranches(text: string, { words }: MissingWords): string {
  return words
    .map((word, index) => ({ word: word.trim(), reason: index + 1 }))
    .filter(({ word }) => word !== "")
    .map(({ word, reason }) => `WHEN ${text} = ${quoted(word)} THEN ${reason}`)
    .join(" ");
}
