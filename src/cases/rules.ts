import { DATE_RULES, datesAfterCut } from "./date-rules.ts";
import { REVISION_RULES } from "./revision-rules.ts";
import { missing, type RowRule } from "./rule-tests.ts";
import { TECHNIQUE_RULES } from "./technique-rules.ts";
import { DURATION_RULES, VALUE_RULES } from "./value-rules.ts";

export interface RuleContext {
  /** Day number of the data cut, where the descriptor states one. */
  readonly dataCut: number | undefined;
  /** True where follow-up is given as durations instead of dates. */
  readonly hasDurations: boolean;
}

/**
 * Every rule that looks at one row, as data.
 *
 * Impossible values and orders are errors: no analysis can mean anything with them. Values that are possible but
 * rare are warnings. Limits in common practice, no source.
 */
export function rowRules({ dataCut, hasDurations }: RuleContext): readonly RowRule[] {
  return [
    ...(hasDurations ? DURATION_RULES : [missing("operation-date-missing", "operationDate")]),
    missing("patient-missing", "patientId", "warning"),
    ...DATE_RULES,
    ...VALUE_RULES,
    ...REVISION_RULES,
    ...TECHNIQUE_RULES,
    ...(dataCut === undefined ? [] : datesAfterCut(dataCut)),
  ];
}
