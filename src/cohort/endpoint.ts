/** One way in which follow-up can end, named for readers. */
export type Outcome =
  /** Revision for one of these reasons (file codes), "any", or "other" = whatever no other outcome of the endpoint names. */
  | { readonly label: string; readonly revisionFor: readonly string[] | "any" | "other" }
  | { readonly label: string; readonly death: true }
  /** Exports with durations: the `outcome` name of a status category. */
  | { readonly label: string; readonly status: string };

/**
 * How a unit that had no outcome leaves: at the data cut, or at its last contact. "hybrid" is the data cut for what
 * registers capture, revisions and deaths, and the last visit for what is measured at visits.
 */
export const CENSORING_RULES = ["dataCut", "lastContact", "hybrid"] as const;
export type CensoringRule = (typeof CENSORING_RULES)[number];

/** What is counted, what competes with it, and when follow-up ends without either. */
export interface Endpoint {
  readonly event: Outcome;
  /** In the order of the reports. Whatever is left out here censors, and the report says so. */
  readonly competing: readonly Outcome[];
  readonly censoring: CensoringRule;
}
