import type { Json } from "./study-block.ts";

/** Fields of cases without a reason for revision. */
export const CASES: readonly Json[] = [
  { name: "case", type: "string", role: "caseId" },
  { name: "operated", type: "date", role: "operationDate" },
  { name: "revised", type: "date", role: "revisionDate" },
  { name: "seen", type: "date", role: "lastFollowUpDate" },
];

export const JA_NEIN = [{ value: "ja" }, { value: "nein", absent: true }];
/** Columns of ticks: pain, two that mean loosening, infection. */
export const TICKS: readonly Json[] = [
  { name: "pain", type: "boolean", role: "revisionReason:pain" },
  { name: "loose", title: "loose component", type: "boolean", role: "revisionReason:loosening" },
  { name: "lysis", type: "string", role: "revisionReason:loosening", categories: [{ value: "x" }] },
  { name: "infected", type: "string", role: "revisionReason:infection", categories: JA_NEIN },
];
