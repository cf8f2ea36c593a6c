/**
 * Twelve invented knees of eleven patients, small enough to work every answer out as a fraction by hand.
 *
 * Tenths of a year as ticks. Causes: 1 loosening revision, 2 other revision, 3 death. Arms A (rows 1 to 6) and B.
 */
export const TWELVE_KNEES = {
  exit: [5, 10, 20, 20, 40, 60, 30, 35, 50, 55, 60, 70],
  event: [2, 3, 1, 0, 1, 0, 0, 3, 1, 0, 2, 0],
  group: { codes: [0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1], labels: ["A", "B"] },
  causes: ["loosening", "other revision", "death"],
} as const;

/** Any revision; death ends follow-up. */
export const ANY_REVISION = ["loosening", "other revision"] as const;
