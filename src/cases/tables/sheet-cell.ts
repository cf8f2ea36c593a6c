import { type CellObject, SSF } from "@e965/xlsx";
import { type CellSpelling, plainDigits, spelledDay, spelledNumber } from "../cell-spelling.ts";
import { dayOfSerial } from "../serial-day-cell.ts";

/** The text that a cell means for its field, or the code of the finding that says why it means none. */
export type SheetCell = string | { readonly fault: string };

/** From here on a spreadsheet's numbers have lost digits that were typed. */
const FIRST_UNSAFE_NUMBER = 1e15;

/** Names of columns and words of open fields are read as they stand. */
const AS_WRITTEN: CellSpelling = { kind: "text", dateFormat: "default", decimalChar: "." };

/** What a cell of a sheet holds, as the field that it belongs to writes it. */
export function sheetCell(
  cell: CellObject | undefined,
  isMerged: boolean,
  countsFrom1904: boolean,
  spelling: CellSpelling = AS_WRITTEN,
): SheetCell {
  if (isMerged) return { fault: "cell-merged" };
  if (cell === undefined || cell.t === "z") return "";
  if (cell.v === undefined) return cell.f === undefined ? "" : { fault: "formula-without-value" };
  if (cell.t === "s") return String(cell.v);
  if (cell.t === "b") return cell.v === true ? "true" : "false";
  if (cell.t === "n" && typeof cell.v === "number")
    return numberCell(cell.v, cell.z, countsFrom1904, spelling);
  return { fault: "cell-is-error" };
}

function numberCell(
  value: number,
  format: CellObject["z"],
  countsFrom1904: boolean,
  spelling: CellSpelling,
): SheetCell {
  if (format !== undefined && SSF.is_date(String(format))) return dateCell(value, countsFrom1904, spelling);
  // A day without a date format is a number like any other; the field decides whether it may be one.
  if (spelling.kind === "number" || spelling.kind === "day") {
    return spelledNumber(value, spelling) ?? { fault: "cell-is-error" };
  }
  if (Math.abs(value) >= FIRST_UNSAFE_NUMBER) return { fault: "number-lost-digits" };
  const digits = plainDigits(value);
  return typeof format === "string" && /^0+$/.test(format) ? digits.padStart(format.length, "0") : digits;
}

function dateCell(serial: number, countsFrom1904: boolean, spelling: CellSpelling): SheetCell {
  if (spelling.kind !== "day") return { fault: "cell-is-date" };
  if (!Number.isInteger(serial)) return { fault: "date-has-time" };
  const day = dayOfSerial(serial, countsFrom1904 ? 1904 : 1900);
  return day === undefined ? { fault: "value-not-a-date" } : spelledDay(day, spelling);
}
