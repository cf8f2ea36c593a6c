/** The unit of one tick of follow-up. Follow-up is always a whole number of ticks, so equal times are ties. */
export interface TimeUnit {
  readonly word: "day" | "month" | "year";
  readonly perYear: number;
}

export const TIME_UNITS = {
  day: { word: "day", perYear: 365.25 },
  month: { word: "month", perYear: 12 },
  year: { word: "year", perYear: 1 },
} as const satisfies Record<string, TimeUnit>;

/**
 * The last whole tick that lies within the given number of years.
 *
 * @example
 * tickOfYear(5, TIME_UNITS.day); // 1826
 */
export function tickOfYear(year: number, unit: TimeUnit): number {
  return Math.floor(year * unit.perYear);
}

/** Years are for labels only; counting is done in ticks. */
export function yearsOfTicks(ticks: number, unit: TimeUnit): number {
  return ticks / unit.perYear;
}
