import { planError } from "../../base/plan-error.ts";
import type { Cases } from "../../cases/cases.ts";
import { columnOfRole } from "../../cases/column-of-role.ts";
import { isDeclared, unknownCode } from "../../technique/named-column.ts";
import type { StudyPlan } from "./plan.ts";

/**
 * Refuses a table of expected rates for a sex that the export does not code.
 *
 * @throws UsageError with one fault for each code, where it stands first.
 */
export function requireRates(cases: Cases, { expectedRates }: Pick<StudyPlan, "expectedRates">): void {
  const sex = columnOfRole(cases, "sex");
  // A word that stands only in the file may lack rows of the other sex.
  if (expectedRates === undefined || sex?.kind !== "code" || !isDeclared(cases, sex)) return;
  const codes = expectedRates.bands.map((band) => band.sex);
  const faults = codes.flatMap((written, at) => {
    if (sex.codes.includes(written) || codes.indexOf(written) < at) return [];
    const place = `expectedRates.bands[${at}].sex`;
    return [unknownCode(cases, sex, { code: "unknown-sex", place, written })];
  });
  if (faults.length > 0) throw planError(faults);
}
