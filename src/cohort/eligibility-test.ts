import type { CodeColumn, Column, NumberColumn, TextColumn } from "../base/column.ts";
import { dayNumber } from "../base/day-number.ts";
import { UsageError } from "../base/errors.ts";
import type { Cases } from "../cases/cases.ts";
import { codesInWords, namedColumn } from "../technique/named-column.ts";
import type { EligibilityRule } from "./cohort.ts";

/** What a rule says of one row. */
export type Verdict = "kept" | "removed" | "missing";

/**
 * A rule of the plan as a test of rows.
 *
 * @throws UsageError `rule-unusable`, or that of an unknown field, where the rule does not fit the export.
 */
export function eligibilityTest(cases: Cases, rule: EligibilityRule): (row: number) => Verdict {
  const column = namedColumn(cases, rule.field, `eligibility "${rule.label}"`);
  const meets = valueTest(cases, column, rule);
  const whenMissing: Verdict = rule.missing === "keep" ? "kept" : "missing";
  return (row) => {
    if (column.missing[row] !== 0) return whenMissing;
    return meets(row) ? "kept" : "removed";
  };
}

function valueTest(cases: Cases, column: Column, rule: EligibilityRule): (row: number) => boolean {
  const { oneOf, from, to } = rule;
  const hasLimits = from !== undefined || to !== undefined;
  if (oneOf === undefined && !hasLimits) unusable(rule, "keeps everything; give oneOf, from or to");
  if (column.kind === "code" || column.kind === "text") {
    if (hasLimits) unusable(rule, `"${column.field}" has no order; give oneOf`);
    if (oneOf === undefined || oneOf.length === 0)
      unusable(rule, "keeps nothing; give at least one code in oneOf");
    return column.kind === "code" ? codeTest(cases, column, rule, oneOf) : textTest(column, oneOf);
  }
  if (oneOf !== undefined) unusable(rule, `"${column.field}" has no codes; give from and to`);
  const [low, high] = column.kind === "day" ? dayLimits(rule) : numberLimits(column, rule);
  if (low > high) unusable(rule, "starts after it ends; exchange from and to");
  return (row) => {
    // In range: rows are rows of the export.
    const value = column.values[row]!;
    return value >= low && value <= high;
  };
}

function codeTest(cases: Cases, column: CodeColumn, rule: EligibilityRule, oneOf: readonly string[]) {
  const unknown = oneOf.find((code) => !column.codes.includes(code));
  if (unknown !== undefined) {
    unusable(rule, `"${unknown}" is no code of "${column.field}"; ${codesInWords(cases, column)}`);
  }
  const isKept = Uint8Array.from(column.codes, (code) => (oneOf.includes(code) ? 1 : 0));
  return (row: number) => isKept[column.values[row] ?? 0] === 1;
}

function textTest(column: TextColumn, oneOf: readonly string[]) {
  const kept = new Set(oneOf);
  return (row: number) => kept.has(column.values[row] ?? "");
}

function numberLimits(column: NumberColumn, rule: EligibilityRule): readonly [number, number] {
  const limit = (value: number | string | undefined, open: number): number => {
    if (value === undefined) return open;
    if (typeof value === "number" && Number.isFinite(value)) return value;
    return unusable(rule, `"${column.field}" holds numbers; write from and to as numbers`);
  };
  return [limit(rule.from, Number.NEGATIVE_INFINITY), limit(rule.to, Number.POSITIVE_INFINITY)];
}

function dayLimits(rule: EligibilityRule): readonly [number, number] {
  const limit = (value: number | string | undefined, open: number): number => {
    if (value === undefined) return open;
    const day = typeof value === "string" ? dayNumber(value) : undefined;
    return day ?? unusable(rule, "holds dates; write from and to as 2024-12-31");
  };
  return [limit(rule.from, Number.NEGATIVE_INFINITY), limit(rule.to, Number.POSITIVE_INFINITY)];
}

function unusable(rule: EligibilityRule, what: string): never {
  throw new UsageError("rule-unusable", `eligibility "${rule.label}", field "${rule.field}": ${what}`);
}
