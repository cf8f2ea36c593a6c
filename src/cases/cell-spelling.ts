import type { Column } from "../base/column.ts";
import { dateOfDay } from "../base/day-number.ts";

/** What a field reads, and how its texts are written: from the dictionary. */
export interface CellSpelling {
  readonly kind: Column["kind"];
  readonly dateFormat: string;
  readonly decimalChar: string;
}

/** A whole day as the field writes its dates: a true date needs no order to be read in. */
export function spelledDay(day: number, { dateFormat }: CellSpelling): string {
  const iso = dateOfDay(day);
  if (dateFormat === "default") return iso;
  const [year = "", month = "", date = ""] = iso.split("-");
  return dateFormat.replace("%Y", year).replace("%y", year.slice(2)).replace("%m", month).replace("%d", date);
}

/** A number in plain digits, which read back give the same number; undefined where it has no such text. */
export function spelledNumber(value: number, { decimalChar }: CellSpelling): string | undefined {
  if (!Number.isFinite(value)) return undefined;
  return plainDigits(value).replace(".", decimalChar);
}

/** The shortest decimal digits of a number, without an exponent. */
export function plainDigits(value: number): string {
  const text = String(value);
  const [mantissa = "", exponent] = text.split("e");
  if (exponent === undefined) return text;
  const [whole = "", fraction = ""] = mantissa.replace("-", "").split(".");
  const digits = whole + fraction;
  const point = whole.length + Number(exponent);
  const plain =
    point <= 0
      ? `0.${"0".repeat(-point)}${digits}`
      : digits.padEnd(point, "0").slice(0, point) + (digits.length > point ? `.${digits.slice(point)}` : "");
  return value < 0 ? `-${plain}` : plain;
}
