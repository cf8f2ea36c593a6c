/**
 * What reading made of a cell: 0 = a value, 1 to 200 = missing for that reason, and these.
 *
 * The values of an unreadable cell are never handed on.
 */
export const CELL = {
  present: 0,
  unreadable: 250,
  serialNumber: 251,
  spacesAround: 252,
  respelt: 253,
  /** Reported by whoever refused it. */
  refused: 254,
} as const;

/** Reason that stands beside a cell which is not what its field allows. */
export const UNREADABLE_REASON = "not readable";
