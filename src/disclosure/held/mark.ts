/** Follows a number that is that of a report before. */
export const AS_BEFORE_MARK = "†";

/** What the mark says, beneath every exhibit that has one. How much has changed since it does not say. */
export const AS_BEFORE_NOTE = `${AS_BEFORE_MARK} as in the report before, which the same readers hold: with it, the number now would tell a small one.`;
