import { type FitReport, type LikelihoodPoint, newtonMaximum } from "../numeric/newton.ts";
import { coxExactLikelihood } from "./cox-exact.ts";
import type { SameDayRule } from "./cox-hazard.ts";
import { type CoxPoint, coxLikelihood } from "./cox-likelihood.ts";
import type { CoxRows } from "./cox-rows.ts";
import { independentColumns } from "./independent-columns.ts";
import { likelihoodUnit } from "./likelihood-unit.ts";
import { risingDirection } from "./rising-direction.ts";

/** Why a column has no coefficient. */
export type NotEstimable =
  | { readonly reason: "constant" }
  | { readonly reason: "same-at-risk" }
  | { readonly reason: "collinear"; readonly with: readonly number[] }
  /** The likelihood rises for ever as the coefficient grows (1) or falls (−1). */
  | { readonly reason: "separation"; readonly sign: 1 | -1 };

/** Where the likelihood is highest, in scaled columns. */
export interface CoxMaximum {
  /** Columns with a coefficient, as indexes into the columns of the rows. */
  readonly estimated: readonly number[];
  readonly notEstimable: ReadonlyMap<number, NotEstimable>;
  readonly beta: Float64Array;
  /** Predictor of the columns that are separated, far out in their direction. */
  readonly offset?: Float64Array;
  /** At the start, over `tried`: without a start of one's own, at zero coefficients. */
  readonly firstPoint: LikelihoodPoint;
  /** Columns that carry information of their own there. */
  readonly tried: readonly number[];
  readonly point: LikelihoodPoint;
  readonly report: FitReport;
}

export interface MaximumOptions {
  /** Predictor added to each row. */
  readonly fixed?: Float64Array;
  /** Coefficients to begin with. Default 0. */
  readonly start?: ArrayLike<number>;
  /** The columns are known to carry information of their own, so none is left out. Default false. */
  readonly areIndependent?: boolean;
}

export type Evaluate = (
  values: readonly Float64Array[],
  beta: ArrayLike<number>,
  offset?: Float64Array,
) => LikelihoodPoint;

export function likelihoodOf(rows: CoxRows, rule: SameDayRule): Evaluate {
  return rule === "exact"
    ? (values, beta, offset) => coxExactLikelihood(rows, values, beta, offset)
    : (values, beta, offset) => coxLikelihood(rows, rule, values, beta, offset);
}

/** The sums behind a point; the discrete likelihood has none. */
export function sumsOf(point: LikelihoodPoint): CoxPoint | undefined {
  // Only `coxLikelihood` returns sums.
  return "sums" in point ? (point as CoxPoint) : undefined;
}

/**
 * Fits the columns given, beside a fixed predictor where there is one.
 *
 * Columns that add nothing are left out. Where the likelihood has no highest point, the columns along which it rises for
 * ever are moved far out and the others fitted beside them, which is the limit that the likelihood tends to.
 */
export function coxMaximum(
  rows: CoxRows,
  rule: SameDayRule,
  columns: readonly number[],
  options: MaximumOptions = {},
): CoxMaximum {
  const { fixed, start: given, areIndependent = false } = options;
  const evaluate = likelihoodOf(rows, rule);
  const valuesOf = (list: readonly number[]) => list.map((column) => rows.columns[column]!.values);
  const notEstimable = new Map<number, NotEstimable>();
  const varying = columns.filter((column) => rows.columns[column]?.isConstant === false);
  for (const column of columns)
    if (!varying.includes(column)) notEstimable.set(column, { reason: "constant" });
  const unit = rows.cells.eventWeight.reduce((sum, weight) => sum + weight, 0);
  const ofEvent = likelihoodUnit(rows.observations.weight);
  const startOf = (list: readonly number[]) =>
    Float64Array.from(list, (column) => given?.[columns.indexOf(column)] ?? 0);
  const whole = evaluate(valuesOf(varying), startOf(varying), fixed);
  const keep = (list: readonly number[], point: LikelihoodPoint) => {
    if (areIndependent) return list.map((_, at) => at);
    const { kept, dropped } = independentColumns(point.information, unit);
    for (const { column, by } of dropped) {
      notEstimable.set(
        list[column]!,
        by.length === 0
          ? { reason: "same-at-risk" }
          : { reason: "collinear", with: by.map((other) => list[other]!) },
      );
    }
    return kept;
  };
  const kept = keep(varying, whole);
  const tried = kept.map((at) => varying[at]!);
  const firstPoint =
    tried.length === varying.length ? whole : evaluate(valuesOf(tried), startOf(tried), fixed);
  let estimated = tried;
  let offset = fixed;
  let first: LikelihoodPoint | undefined = firstPoint;
  let start = startOf(tried);
  for (;;) {
    const values = valuesOf(estimated);
    const at = (beta: ArrayLike<number>) => evaluate(values, beta, offset);
    let found = newtonMaximum(at, start, { unit: ofEvent, ...(first && { first }) });
    if (found.report.reason === "levelling-off") {
      const rising = risingDirection(found, (beta) => at(beta).logLikelihood, ofEvent);
      if (rising !== undefined) {
        offset = movedOffset(rows.count, values, rising.far, offset);
        const rest = estimated.filter((_, k) => rising.sign[k] === 0);
        estimated.forEach((column, k) => {
          const sign = rising.sign[k] ?? 0;
          if (sign !== 0) notEstimable.set(column, { reason: "separation", sign: sign > 0 ? 1 : -1 });
        });
        // The others go on from where they are: set back to 0 beside what is far out, hazards could run over.
        const reached = found.at.filter((_, k) => rising.sign[k] === 0);
        const still = keep(rest, evaluate(valuesOf(rest), reached, offset));
        estimated = still.map((k) => rest[k]!);
        start = Float64Array.from(still, (k) => reached[k]!);
        first = undefined;
        continue;
      }
      found = newtonMaximum(at, found.at, { stopWhenLevel: false, first: found.point, unit: ofEvent });
    }
    const { at: beta, point, report } = found;
    return { estimated, notEstimable, beta, firstPoint, tried, point, report, ...(offset && { offset }) };
  }
}

function movedOffset(
  count: number,
  values: readonly Float64Array[],
  far: readonly number[],
  offset: Float64Array | undefined,
): Float64Array {
  const moved = offset?.slice() ?? new Float64Array(count);
  values.forEach((column, k) => {
    const slope = far[k] ?? 0;
    if (slope !== 0) for (let i = 0; i < count; i += 1) moved[i]! += slope * column[i]!;
  });
  return moved;
}
