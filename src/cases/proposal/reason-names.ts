import { REVISION_REASONS, type RevisionReason } from "../revision-reasons.ts";
import { type FieldRole, REASON_TICK } from "../roles.ts";

const WORDS: Readonly<Record<RevisionReason, readonly string[]>> = {
  infection: ["infection", "infektion"],
  fracture: ["fracture", "periprosthetic fracture", "fraktur"],
  loosening: ["loosening", "aseptic loosening", "lysis", "lockerung", "descellement"],
  instability: ["instability", "dislocation", "instabilitat", "instabilite"],
  wear: ["wear", "abrieb", "usure"],
  malalignment: ["malalignment", "malposition", "fehlstellung"],
  pain: ["pain", "schmerz", "schmerzen", "douleur"],
  other: ["other", "sonstiges", "andere", "autre"],
};
/** A word for a reason alone may be a diagnosis or a finding of the first operation. */
const BEFORE = ["revision", "revised for", "rev", "reason", "revision reason", "revisionsgrund", "motif"];

/** What columns of ticks for one reason are called: the word of the reason with one for the revision. */
export const REASON_NAMES: Readonly<Partial<Record<FieldRole, readonly string[]>>> = Object.fromEntries(
  REVISION_REASONS.map((reason) => [
    `${REASON_TICK}${reason}`,
    BEFORE.flatMap((before) => WORDS[reason].map((word) => `${before} ${word}`)),
  ]),
);
