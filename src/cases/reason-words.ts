import type { ExportDescriptor, ExportField } from "./descriptor.ts";
import { REVISION_REASONS, type RevisionReason, revisionReasonOf } from "./revision-reasons.ts";
import { REASON_TICK } from "./roles.ts";

/** A word for a reason for revision, and the reason that it means. */
export interface ReasonWord {
  readonly value: string;
  readonly label: string | undefined;
  readonly reason: RevisionReason;
}

/** The words by which a plan may name the reasons of an export: those of its first table that states or ticks any. */
export function reasonWords({ resources }: ExportDescriptor): readonly ReasonWord[] {
  const ofTables = resources.map(({ schema: { fields } }) => {
    const stated = fields.find(({ role }) => role === "revisionReason")?.categories ?? [];
    const known = stated.map(
      (category): ReasonWord => ({
        value: category.value,
        label: category.label,
        reason: revisionReasonOf(category),
      }),
    );
    return withTickedWords(known, fields);
  });
  return ofTables.find((words) => words.length > 0) ?? [];
}

/** The words of a stated reason, and one for each ticked reason that none of them means. */
export function withTickedWords(
  stated: readonly ReasonWord[],
  fields: readonly ExportField[],
): readonly ReasonWord[] {
  const values = stated.map(({ value }) => value);
  const words = [...stated];
  for (const field of fields) {
    const reason = reasonOfTicks(field);
    if (reason === undefined || words.some((word) => word.reason === reason)) continue;
    const value = values.includes(reason) ? `${reason} (ticked)` : reason;
    words.push({ value, label: field.title, reason });
  }
  return words;
}

/** The reason whose ticks a field holds, or undefined where it holds none. */
export function reasonOfTicks({ role = "" }: ExportField): RevisionReason | undefined {
  return REVISION_REASONS.find((reason) => role === `${REASON_TICK}${reason}`);
}
