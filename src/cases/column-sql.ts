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
  const day =
    format === "default" ? "try_cast(t AS DATE)" : `try_cast(try_strptime(t, ${quoted(format)}) AS DATE)`;
  const back = format === "default" ? "CAST(d AS VARCHAR)" : `strftime(d, ${quoted(format)})`;
  const isIso = format === "default" ? "strlen(t) = 10 AND " : "";
  const serial = `WHEN NOT ok AND regexp_full_match(t, '[0-9]{5}([.]0+)?') THEN ${CELL.serialNumber}`;
  return `
    WITH texts AS (SELECT ${column} AS x, trim(${column}) AS t FROM raw),
      days AS (SELECT x, t, ${day} AS d FROM texts),
      checked AS (SELECT x, t, d, coalesce(${isIso}${back} = t, false) AS ok FROM days)
    SELECT coalesce(CASE WHEN ok THEN d END, DATE '1970-01-01'), ${statusSql(missing, serial)} FROM checked`;
}

/** Query for a column of plain decimal numbers: no exponent, no mark between thousands, no sign of currency. */
export function numberColumnSql(
  column: string,
  options: { readonly decimalChar: string; readonly whole: boolean },
  missing: MissingWords,
): string {
  const fraction = options.whole ? "" : `([${options.decimalChar}][0-9]+)?`;
  const value = options.decimalChar === "." ? "t" : `replace(t, ${quoted(options.decimalChar)}, '.')`;
  // Above this, neighbouring whole numbers become one: such a column holds names, not amounts.
  const limit = options.whole ? `abs(v) <= ${Number.MAX_SAFE_INTEGER}` : "isfinite(v)";
  return `
    WITH texts AS (SELECT ${column} AS x, trim(${column}) AS t FROM raw),
      numbers AS (SELECT x, t, CASE WHEN regexp_full_match(t, '-?[0-9]+${fraction}') THEN try_cast(${value} AS DOUBLE) END AS v FROM texts),
      checked AS (SELECT x, t, v, coalesce(${limit}, false) AS ok FROM numbers)
    SELECT coalesce(CASE WHEN ok THEN v END, 0::DOUBLE), ${statusSql(missing, "")} FROM checked`;
}

function statusSql({ words, blank }: MissingWords, special: string): string {
  const reasons = words
    .map((word, index) => ({ word: word.trim(), reason: index + 1 }))
    .filter(({ word }) => word !== "")
    .map(({ word, reason }) => `WHEN t = ${quoted(word)} THEN ${reason}`);
  return `CAST(CASE
      WHEN t = '' THEN ${blank}
      ${reasons.join(" ")}
      ${special}
      WHEN NOT ok THEN ${CELL.unreadable}
      WHEN x <> t THEN ${CELL.spacesAround}
      ELSE ${CELL.present} END AS UTINYINT)`;
}
