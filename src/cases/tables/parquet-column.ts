import type { SchemaElement } from "hyparquet";
import { type CellSpelling, plainDigits, spelledDay, spelledNumber } from "../cell-spelling.ts";

/** How a column's values are made texts, or the finding that says why they cannot be. */
export type ColumnType =
  | { readonly kind: "text" | "day" | "whole" | "number" | "boolean" }
  | { readonly kind: "refused"; readonly code: string };

/** From here on a number with a fraction has lost digits of a code that was written. */
const FIRST_UNSAFE_NUMBER = 1e15;
const AS_WRITTEN: CellSpelling = { kind: "text", dateFormat: "default", decimalChar: "." };

export function columnType({
  type,
  converted_type: converted,
  logical_type: logical,
  num_children: children,
  repetition_type: repetition,
}: SchemaElement): ColumnType {
  if ((children ?? 0) > 0 || repetition === "REPEATED") return refused("column-nested");
  if (converted === "DATE" || logical?.type === "DATE") return { kind: "day" };
  if (logical?.type === "TIMESTAMP") {
    return refused(logical.isAdjustedToUTC ? "timestamp-with-zone" : "timestamp-not-date");
  }
  // The older marks, and the oldest form, always mean an instant.
  if (converted?.startsWith("TIMESTAMP") || type === "INT96") return refused("timestamp-with-zone");
  if (converted === "DECIMAL" || logical?.type === "DECIMAL" || type === "FLOAT" || type === "DOUBLE") {
    return { kind: "number" };
  }
  if (type === "BOOLEAN") return { kind: "boolean" };
  if (type === "INT32" || type === "INT64") {
    return converted?.startsWith("TIME") || logical?.type === "TIME"
      ? refused("column-type-not-read")
      : { kind: "whole" };
  }
  if (type === "BYTE_ARRAY" && isText(converted, logical)) return { kind: "text" };
  return refused("column-type-not-read");
}

/** A plain byte array is what older writers make of text. */
function isText(converted: SchemaElement["converted_type"], logical: SchemaElement["logical_type"]): boolean {
  const types = [converted, logical?.type].filter((each) => each !== undefined);
  return types.every((each) => ["UTF8", "STRING", "ENUM", "JSON"].includes(each));
}

function refused(code: string): ColumnType {
  return { kind: "refused", code };
}

/** The text that a value means for its field, or the code of the finding that says why it means none. */
export function spelledValue(
  value: unknown,
  { kind }: ColumnType,
  spelling: CellSpelling = AS_WRITTEN,
): string | { readonly fault: string } {
  if (value === undefined || value === null) return "";
  if (kind === "day" && typeof value === "number") {
    if (spelling.kind === "number") return { fault: "value-not-a-number" };
    return isCalendarDay(value) ? spelledDay(value, spelling) : { fault: "value-not-a-date" };
  }
  if (kind === "number" && typeof value === "number") return spelledAmount(value, spelling);
  return String(value);
}

function spelledAmount(value: number, spelling: CellSpelling): string | { readonly fault: string } {
  if (!Number.isFinite(value)) return { fault: "value-not-a-number" };
  if (spelling.kind === "number") return spelledNumber(value, spelling) ?? { fault: "value-not-a-number" };
  return Math.abs(value) < FIRST_UNSAFE_NUMBER ? plainDigits(value) : { fault: "number-lost-digits" };
}

/** Years 1 to 9999, which have a text of ten signs. */
function isCalendarDay(day: number): boolean {
  return day >= -719_162 && day <= 2_932_896;
}
