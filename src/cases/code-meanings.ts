import type { CodeColumn } from "../base/column.ts";
import type { Cases } from "./cases.ts";
import type { ExportField } from "./descriptor.ts";
import { caseFields } from "./descriptor-rules.ts";
import type { RecordedState } from "./recorded-state.ts";
import { type RevisionReason, revisionReasonOf } from "./revision-reasons.ts";

/** What the dictionary says about a word of a field, beyond its label. */
export interface CodeMeaning {
  readonly state: RecordedState | undefined;
  /** What the field is about was not there: no sclerotic bone, no cement. */
  readonly absent: boolean;
  readonly reason: RevisionReason;
}

type Category = NonNullable<ExportField["categories"]>[number];

/** Words that say so themselves where the dictionary does not. */
const WORDS_OF_ABSENCE: Readonly<Record<string, readonly string[]>> = {
  sclerosis: ["none", "no", "absent"],
  fixation: ["uncemented", "cementless"],
  radiographFinding: ["none", "no", "absent"],
};

/** For each code of a column, in its order. */
export function codeMeanings(cases: Cases, column: CodeColumn): readonly CodeMeaning[] {
  const field = caseFields(cases.descriptor).find(({ name }) => name === column.field);
  return column.codes.map((code, place) => {
    const label = column.labels[place];
    const category = field?.categories?.find(({ value }) => value === code) ?? { value: code, label };
    return meaningOf(category, field?.role ?? "");
  });
}

function meaningOf(category: Category, role: string): CodeMeaning {
  const words = WORDS_OF_ABSENCE[role] ?? [];
  return {
    state: category.state,
    absent: category.absent ?? words.includes(category.value.trim().toLowerCase()),
    reason: revisionReasonOf(category),
  };
}
