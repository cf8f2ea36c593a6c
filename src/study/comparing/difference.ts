/** Parts of a comparison, in the order in which they explain one another. */
export const DIFFERENCE_PARTS = ["what went in", "what came out", "files"] as const;

/** One way in which two reports are not the same, in words that show nothing but what the two show. */
export interface ReportDifference {
  readonly part: (typeof DIFFERENCE_PARTS)[number];
  /** What it is about: "Plan", "Table “Rates by period”", "index.html". */
  readonly about: string;
  readonly what: string;
}

/** A results.json as it was read. */
export type ResultsRecord = Readonly<Record<string, unknown>>;
