import { type Column, isPresent, type NumberColumn } from "../base/column.ts";
import type { FindingLog } from "../base/finding-log.ts";
import type { ExportField } from "./descriptor.ts";
import { valueLimits } from "./value-limits.ts";

/** Values of one measure, and the range they have in the unit that is meant. */
interface Plausible {
  readonly unit: string;
  readonly low: number;
  readonly high: number;
}

interface Measure extends Plausible {
  /** What is written in its place by mistake: ranges that do not meet that of the unit. */
  readonly mistakenFor: readonly Plausible[];
}

const YEARS_OF_AGE = { unit: "years", low: 0, high: 120 };
const FAHRENHEIT = { unit: "degrees Fahrenheit", low: 50, high: 115 };
const CELSIUS = { unit: "degrees Celsius", low: -10, high: 45 };
const METRES = { unit: "metres", low: 0.5, high: 2.5 };
const CENTIMETRES = { unit: "centimetres", low: 50, high: 250 };

/** By role, which says what is measured. Limits in common practice, no source. */
const BY_ROLE: Readonly<Record<string, Measure>> = {
  ageYears: {
    ...YEARS_OF_AGE,
    mistakenFor: [
      { unit: "a year of birth", low: 1880, high: 2100 },
      { unit: "months", low: 200, high: 1440 },
    ],
  },
  bmi: {
    unit: "kg/m²",
    low: 8,
    high: 120,
    mistakenFor: [
      { unit: "a height in metres", low: 1.2, high: 2.3 },
      { unit: "a height in centimetres", low: 130, high: 230 },
    ],
  },
};

/** By the UCUM code of the field, for a person's sizes and the temperatures of bodies and theatres. */
const BY_UNIT: Readonly<Record<string, Measure>> = {
  Cel: { ...CELSIUS, mistakenFor: [FAHRENHEIT] },
  "[degF]": { ...FAHRENHEIT, mistakenFor: [CELSIUS] },
  m: { ...METRES, mistakenFor: [CENTIMETRES] },
  cm: { ...CENTIMETRES, mistakenFor: [METRES] },
  kg: { unit: "kilograms", low: 20, high: 300, mistakenFor: [{ unit: "grams", low: 20_000, high: 300_000 }] },
};

/**
 * Reports values that lie outside the range of their unit and inside that of another.
 *
 * Nothing is converted. Where over half of a column does so, the column is in the other unit: an error without rows. A single
 * value is an error where it can be no value of its field, by its role or by the limits of the dictionary.
 */
export function reportUnits(
  field: ExportField,
  column: NumberColumn,
  lineOfRow: Uint32Array,
  log: FindingLog,
): void {
  const measure = measureOf(field);
  if (measure === undefined) return;
  const present = column.missing.reduce((sum, reason) => sum + (reason === 0 ? 1 : 0), 0);
  const { isBelow, isAbove } = valueLimits(field, column);
  for (const other of measure.mistakenFor) {
    const rows = rowsWhere(column, isWrittenIn(column, measure, [other]));
    const details = { unit: measure.unit, other: other.unit };
    if (2 * rows.length > present) {
      log.add({
        code: "column-in-other-unit",
        severity: "error",
        field: field.name,
        details: { ...details, rows: rows.length, present },
      });
    } else {
      const cannotBe = isMeasuredRole(field) || rows.some((row) => isBelow(row) || isAbove(row));
      const severity = cannotBe ? "error" : "warning";
      for (const row of rows) {
        const place = { row: row + 1, line: lineOfRow[row] ?? 0, field: field.name };
        log.add({ code: "value-in-other-unit", severity, ...place, details });
      }
    }
  }
}

/** Which rows `reportUnits` has told of, one by one or with the whole column. */
export function inOtherUnit(field: ExportField, column: Column): (row: number) => boolean {
  const measure = measureOf(field);
  if (measure === undefined || column.kind !== "number") return () => false;
  return isWrittenIn(column, measure, measure.mistakenFor);
}

function measureOf(field: ExportField): Measure | undefined {
  return BY_ROLE[field.role ?? ""] ?? BY_UNIT[field.unit ?? ""];
}

function isMeasuredRole({ role = "" }: ExportField): boolean {
  return role in BY_ROLE;
}

function isWrittenIn(
  column: NumberColumn,
  { low, high }: Plausible,
  others: readonly Plausible[],
): (row: number) => boolean {
  return (row) => {
    const value = column.values[row] ?? 0;
    if ((value >= low && value <= high) || !isPresent(column, row)) return false;
    return others.some((other) => value >= other.low && value <= other.high);
  };
}

function rowsWhere({ values }: NumberColumn, isMeant: (row: number) => boolean): number[] {
  const rows: number[] = [];
  for (let row = 0; row < values.length; row += 1) if (isMeant(row)) rows.push(row);
  return rows;
}
