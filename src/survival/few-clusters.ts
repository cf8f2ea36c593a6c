import { ArgumentError } from "../base/errors.ts";
import { normalTwoSided, normalUpperQuantile } from "../numeric/normal.ts";
import { studentTwoSided, studentUpperQuantile } from "../numeric/student-t.ts";

/** Below this many clusters intervals and tests use t on clusters − 1, but for "shares". */
export const FEW_CLUSTERS = 30;

/**
 * How a variance over few clusters is widened. A sum of squared influence falls short, because each cluster has pulled the
 * estimate towards itself: "none" leaves it so; "clusters" multiplies it by G / (G − 1); "shares" divides the influence of
 * each cluster by one minus its share of the group, which also makes up for clusters of unequal size, and refers to t on the
 * degrees of freedom that the shares leave (`sharesFreedom`).
 */
export const SMALL_SAMPLE = ["none", "clusters", "shares"] as const;
export type SmallSample = (typeof SMALL_SAMPLE)[number];

/** Where a fit does not tell how much of its information is each cluster's. */
export const CLUSTERS_OR_NONE = ["none", "clusters"] as const satisfies readonly SmallSample[];
export type ClustersOrNone = (typeof CLUSTERS_OR_NONE)[number];

/** Where groups have variances of their own, one factor over all clusters has no meaning. */
export const SHARES_OR_NONE = ["none", "shares"] as const satisfies readonly SmallSample[];
export type SharesOrNone = (typeof SHARES_OR_NONE)[number];

export function requireSharesOrNone(where: string, smallSample: SharesOrNone): void {
  if (SHARES_OR_NONE.includes(smallSample)) return;
  throw new ArgumentError(`${where}: smallSample must be one of ${SHARES_OR_NONE.join(", ")}`);
}

/** The reference distribution of an estimate over its standard error. */
export interface Reference {
  /** Degrees of freedom of t; null means normal. */
  readonly degreesOfFreedom: number | null;
  /** Two-sided quantile of the level. */
  readonly quantile: number;
  /** Two-sided p of an estimate over its standard error. */
  readonly p: (ratio: number) => number;
}

export function normalReference(level: number): Reference {
  return { degreesOfFreedom: null, quantile: normalUpperQuantile((1 - level) / 2), p: normalTwoSided };
}

/**
 * Normal without clusters; t on the degrees of freedom of `sharesFreedom` where they are given; else normal from 30
 * clusters up and t on clusters − 1 below. Undefined for fewer than two clusters.
 */
export function referenceFor(
  clusters: number | null,
  level: number,
  freedom?: number,
): Reference | undefined {
  if (clusters === null) return normalReference(level);
  if (clusters < 2) return undefined;
  if (freedom !== undefined) return freedom > 0 ? studentReference(freedom, level) : undefined;
  return clusters < FEW_CLUSTERS ? studentReference(clusters - 1, level) : normalReference(level);
}

function studentReference(degreesOfFreedom: number, level: number): Reference {
  return {
    degreesOfFreedom,
    quantile: studentUpperQuantile((1 - level) / 2, degreesOfFreedom),
    p: (ratio) => studentTwoSided(ratio, degreesOfFreedom),
  };
}
