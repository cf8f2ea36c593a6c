import { type Answer, computed, notComputed } from "../base/answer.ts";
import { chiSquareUpperQuantile } from "../numeric/chi-square.ts";
import type { Coefficient, FittedColumn } from "./coefficient.ts";
import type { FitColumns } from "./fit-columns.ts";
import { withRatio } from "./fitted-columns.ts";
import { type Profile, profileLimit, ratioTestOf } from "./likelihood-profile.ts";

/**
 * The same columns with limits and p read from the likelihood instead of from a standard error. Each limit is a search, so
 * that a column nobody asks for has none.
 */
export function profiledColumns(
  fitted: readonly FittedColumn[],
  columns: FitColumns,
  profile: Profile,
  level: number,
  isAsked: (term: string) => boolean = () => true,
): readonly FittedColumn[] {
  return fitted.map((one) => {
    if (!one.coefficient.computed) return one;
    if (!isAsked(one.term)) return { ...one, coefficient: NOT_ASKED };
    const axis = columns.axes[columns.names.indexOf(one.column)] ?? [];
    return { ...one, coefficient: profiled(one.coefficient, axis, profile, level) };
  });
}

const NOT_ASKED = notComputed("not-asked", "its limits were not asked for");

function profiled(
  coefficient: Coefficient,
  axis: readonly number[],
  profile: Profile,
  level: number,
): Answer<Coefficient> {
  const { estimate, standardError, statistic } = coefficient;
  const fall = chiSquareUpperQuantile(1 - level, 1);
  const limit = (side: -1 | 1) =>
    profileLimit(profile, axis, { inner: estimate, step: side * 2 * standardError, fall });
  const [test, lower, upper] = [ratioTestOf(profile, axis), limit(-1), limit(1)];
  if (!test.computed) return test;
  if (!lower.computed) return lower;
  if (!upper.computed) return upper;
  const limits = { lower: lower.value, upper: upper.value };
  return computed(
    withRatio({ estimate, standardError, ...limits, statistic, p: test.p }, coefficient.ratio !== undefined),
  );
}
