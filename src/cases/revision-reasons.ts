/**
 * Reasons for revision in the order in which one becomes the main reason where several are ticked.
 *
 * Infection stands first because it decides how every other reason is treated; pain stands late because it accompanies
 * most of them. Field practice, from memory; no source.
 */
export const REVISION_REASONS = [
  "infection",
  "fracture",
  "loosening",
  "instability",
  "wear",
  "malalignment",
  "pain",
  "other",
] as const;
export type RevisionReason = (typeof REVISION_REASONS)[number];

const OTHER_SPELLINGS: Readonly<Record<string, RevisionReason>> = {
  "deep infection": "infection",
  "periprosthetic infection": "infection",
  "periprosthetic fracture": "fracture",
  "aseptic loosening": "loosening",
  lysis: "loosening",
  osteolysis: "loosening",
  dislocation: "instability",
  malposition: "malalignment",
};

/** The reason a dictionary means: as it declares, else by its plain word; anything else is "other". */
export function revisionReasonOf(category: {
  readonly value: string;
  readonly label?: string | undefined;
  readonly reason?: RevisionReason | undefined;
}): RevisionReason {
  if (category.reason !== undefined) return category.reason;
  for (const text of [category.value, category.label ?? ""]) {
    const word = text.trim().toLowerCase().replaceAll("_", " ");
    const plain = REVISION_REASONS.find((reason) => reason === word) ?? OTHER_SPELLINGS[word];
    if (plain !== undefined) return plain;
  }
  return "other";
}

/** Place in the order, from 0; the smallest is the main reason. */
export function placeOfReason(reason: RevisionReason): number {
  return REVISION_REASONS.indexOf(reason);
}
