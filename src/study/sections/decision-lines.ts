/** What a committee writes beneath its decision. */
export const DECISION_LINES = ["Date and initials", "What, who, and looked at again on"] as const;
