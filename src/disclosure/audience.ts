/** Who may read a report, from the widest circle to the narrowest. */
export const AUDIENCES = ["external", "committee", "analyst"] as const;
export type Audience = (typeof AUDIENCES)[number];

/** Counts from 1 to below the threshold are hidden; 0 means nothing is hidden. */
export const THRESHOLDS: Readonly<Record<Audience, number>> = { external: 10, committee: 5, analyst: 0 };
