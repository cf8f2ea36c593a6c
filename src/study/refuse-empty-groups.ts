import { planError } from "../base/plan-error.ts";
import type { StudyObservations } from "./observations.ts";

/**
 * Hands the observations on, or stops where a group to be compared holds nobody.
 *
 * @throws UsageError `empty-group` naming the group.
 */
export function refuseEmptyGroups(compared: StudyObservations): StudyObservations {
  const { codes, labels } = compared.observations.group;
  const sizes = labels.map((_label, code) => codes.reduce((sum, one) => sum + (one === code ? 1 : 0), 0));
  const empty = labels.filter((_label, code) => sizes[code] === 0);
  if (empty.length > 0) {
    const names = empty.map((label) => `"${label}"`).join(" or ");
    const what =
      `nobody in the cohort is in the group ${names}, so nothing can be compared; ` +
      "change the eligibility rules or the groups";
    throw planError([{ code: "empty-group", place: "exposure", what }]);
  }
  return compared;
}
