/** Ids of the standard sections, and of the other parts of a page that have one; no section of a notebook's own may have them. */
export const TAKEN_IDS: readonly string[] = [
  "report",
  "brief",
  "contents",
  "included",
  "covariates",
  "feasibility",
  "over-time",
  "effects",
  "adjusted",
  "other-measures",
  "does-it-move",
  "published",
  "methods",
  "checklist",
  "reproduce",
];
