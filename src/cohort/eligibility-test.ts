import type { CodeColumn, Column, NumberColumn, TextColumn } from "../base/column.ts";
import { dayNumber } from "../base/day-number.ts";
import { planError } from "../base/plan-error.ts";
import type { Cases } from "../cases/cases.ts";
import { namedColumn, unknownCode } from "../technique/named-column.ts";
import type { EligibilityRule } from "./cohort.ts";

/** What a rule says of one row. */
export type Verdict = "kept" | "removed" | "missing";

/**
 * A rule of the plan as a test of rows.
 *
 * @param at the rule's place in the plan's list.
 * @throws UsageError `rule-unusable`, or that of an unknown field, where the rule does not fit the export.
 */
export function eligibilityTest(cases: Cases, rule: EligibilityRule, at: number): (row: number) => Verdict {
  const place = `eligibility[${at}]`;
  const column = namedColumn(cases, rule.field, `${place}.field`);
  const meets = valueTest(cases, column, { ...rule, place });
  const whenMissing: Verdict = rule.missing === "keep" ? "kept" : "missing";
  return (row) => {
    if (column.missing[row] !== 0) return whenMissing;
    return meets(row) ? "kept" : "removed";
  };
}

/** With its place in the plan. */
type PlacedRule = EligibilityRule & { readonly place: string };

function valueTest(cases: Cases, column: Column, rule: PlacedRule): (row: number) => boolean {
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

function codeTest(cases: Cases, column: CodeColumn, { place }: PlacedRule, oneOf: readonly string[]) {
  const unknown = oneOf.flatMap((written, at) =>
    column.codes.includes(written)
      ? []
      : [unknownCode(cases, column, { code: "rule-unusable", place: `${place}.oneOf[${at}]`, written })],
  );
  if (unknown.length > 0) throw planError(unknown);
  const isKept = Uint8Array.from(column.codes, (code) => (oneOf.includes(code) ? 1 : 0));
  return (row: number) => isKept[column.values[row] ?? 0] === 1;
}

function textTest(column: TextColumn, oneOf: readonly string[]) {
  const kept = new Set(oneOf);
  return (row: number) => kept.has(column.values[row] ?? "");
}

function numberLimits(column: NumberColumn, rule: PlacedRule): readonly [number, number] {
  const limit = (value: number | string | undefined, open: number): number => {
    if (value === undefined) return open;
    if (typeof value === "number" && Number.isFinite(value)) return value;
    return unusable(rule, `"${column.field}" holds numbers; write from and to as numbers`);
  };
  return [limit(rule.from, Number.NEGATIVE_INFINITY), limit(rule.to, Number.POSITIVE_INFINITY)];
}

function dayLimits(rule: PlacedRule): readonly [number, number] {
  const limit = (value: number | string | undefined, open: number): number => {
    if (value === undefined) return open;
    const day = typeof value === "string" ? dayNumber(value) : undefined;
    return day ?? unusable(rule, `"${rule.field}" holds dates; write from and to as 2024-12-31`);
  };
  return [limit(rule.from, Number.NEGATIVE_INFINITY), limit(rule.to, Number.POSITIVE_INFINITY)];
}

function unusable({ place, label }: PlacedRule, what: string): never {
  throw planError([{ code: "rule-unusable", place: `${place}, "${label}"`, what }]);
}
