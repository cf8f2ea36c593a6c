import { type Answer, computed, notComputed } from "../base/answer.ts";
import type { Reference } from "./few-clusters.ts";

/** Two estimates set against each other. */
export interface Contrast {
  readonly estimate: number;
  readonly lower: number;
  readonly upper: number;
  readonly p: number;
  /** Of the t that limits and p use; null means normal. */
  readonly degreesOfFreedom: number | null;
}

export type DifferenceContrast = Contrast & { readonly standardError: number };

/** First minus second, with limits on the plain scale. */
export function differenceContrast(
  first: number,
  second: number,
  standardError: number,
  { quantile, p, degreesOfFreedom }: Reference,
): DifferenceContrast {
  const estimate = first - second;
  return {
    estimate,
    standardError,
    lower: estimate - quantile * standardError,
    upper: estimate + quantile * standardError,
    p: p(estimate / standardError),
    degreesOfFreedom,
  };
}

/** First over second, with limits on the log scale; refused where one of them is 0. */
export function ratioContrast(
  first: number,
  second: number,
  errorOfLog: number,
  { quantile, p, degreesOfFreedom }: Reference,
): Answer<Contrast> {
  if (!(first > 0 && second > 0)) return notComputed("ratio-of-zero", "one of the two values is 0");
  const log = Math.log(first / second);
  const [lower, upper] = [Math.exp(log - quantile * errorOfLog), Math.exp(log + quantile * errorOfLog)];
  // With two clusters and a high level the t quantile runs into the thousands.
  if (!Number.isFinite(upper))
    return notComputed("limits-beyond-numbers", "too few clusters to bound the ratio");
  return computed({ estimate: first / second, lower, upper, p: p(log / errorOfLog), degreesOfFreedom });
}
