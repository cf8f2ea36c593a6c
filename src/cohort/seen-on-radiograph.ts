import type { DayColumn } from "../base/column.ts";

/** Stands for a date that is not there: later than any day that can be, and small enough for fast whole numbers. */
export const NEVER = 1_073_741_823;

/** The day of a knee's last radiograph, or `NEVER`: one taken before the operation shows no implant. */
export function radiographAfter(operated: number, taken: DayColumn | undefined, row: number): number {
  if (taken === undefined || taken.missing[row] !== 0) return NEVER;
  const day = taken.values[row] ?? NEVER;
  return day < operated ? NEVER : day;
}

/** Whether a radiograph says of a later day than the last contact that the knee was unrevised. */
export function isLater(radiograph: number, contact: number): boolean {
  return radiograph !== NEVER && (contact === NEVER || radiograph > contact);
}
