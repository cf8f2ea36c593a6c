import { UsageError } from "../base/errors.ts";
import { planError } from "../base/plan-error.ts";
import type { Cases } from "../cases/cases.ts";
import { allRows, countUnits, personCodes, type RowCodes } from "../technique/row-codes.ts";
import type { AttritionStep, Cohort, EligibilityRule } from "./cohort.ts";
import { eligibilityTest } from "./eligibility-test.ts";

/**
 * Who is studied, and how many each rule took out.
 *
 * The rules are applied in the order given, each to what the ones before it left, so their order decides where a unit
 * that fails two of them is counted. A unit whose field is missing is taken out and counted, unless the rule says
 * "keep". Units add up from step to step; persons do not, because one with two knees can lose one of them.
 *
 * @throws UsageError `rule-unusable`, `unknown-field`, `unknown-role` or `role-not-in-export` for a rule that does not
 * fit the export, and `empty-cohort` naming the rule that left nobody.
 *
 * @example
 * const cases = await readCases("data/mgus2/datapackage.json");
 * selectCohort(cases, [{ label: "women", field: "sex", oneOf: ["F"] }]).attrition[1]; // "women", 631 left
 */
export function selectCohort(cases: Cases, rules: readonly EligibilityRule[]): Cohort {
  const persons = personCodes(cases);
  // Every rule is checked before any is applied: one run shows the first fault of the plan, not of the data.
  const tests = rules.map((rule, at) => ({ rule, verdictOf: eligibilityTest(cases, rule, at) }));
  const { many } = cases.descriptor.study.unit;
  let rows = allRows(cases.rows);
  if (rows.length === 0)
    throw new UsageError("empty-cohort", "the export holds no rows, so nobody can be studied");
  const all = countUnits(rows, persons);
  const attrition: AttritionStep[] = [
    {
      label: `all ${many} of the export`,
      removedUnits: 0,
      removedPersons: 0,
      removedForMissing: 0,
      leftUnits: all.units,
      leftPersons: all.persons,
    },
  ];
  for (const [at, { rule, verdictOf }] of tests.entries()) {
    const { kept, step } = applyRule(rule.label, rows, verdictOf, persons);
    if (kept.length === 0) {
      const what =
        `"${rule.label}" left none of the ${many}: ${step.removedForMissing} of ${step.removedUnits} ` +
        `taken out had nothing in field "${rule.field}"; widen the rule or leave it out`;
      throw planError([{ code: "empty-cohort", place: `eligibility[${at}]`, what }]);
    }
    attrition.push(step);
    rows = kept;
  }
  return { rows, persons: attrition.at(-1)?.leftPersons ?? 0, attrition };
}

function applyRule(
  label: string,
  rows: Int32Array,
  verdictOf: ReturnType<typeof eligibilityTest>,
  persons: RowCodes,
): { kept: Int32Array<ArrayBuffer>; step: AttritionStep } {
  const kept = new Int32Array(rows.length);
  const removed = new Int32Array(rows.length);
  let keptCount = 0;
  let removedCount = 0;
  let removedForMissing = 0;
  for (const row of rows) {
    const verdict = verdictOf(row);
    if (verdict === "kept") kept[keptCount++] = row;
    else removed[removedCount++] = row;
    if (verdict === "missing") removedForMissing += 1;
  }
  const left = countUnits(kept.subarray(0, keptCount), persons);
  const out = countUnits(removed.subarray(0, removedCount), persons);
  return {
    kept: kept.slice(0, keptCount),
    step: {
      label,
      removedUnits: out.units,
      removedPersons: out.persons,
      removedForMissing,
      leftUnits: left.units,
      leftPersons: left.persons,
    },
  };
}
