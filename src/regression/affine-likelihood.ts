import type { LikelihoodPoint } from "../numeric/newton.ts";

/** Points origin + Σ free_k axis_k: a likelihood with something held fast. */
export interface AffineSpace {
  readonly origin: readonly number[];
  readonly axes: readonly (readonly number[])[];
}

/** A likelihood on such points only, as a likelihood of what is free. */
export function alongAxes(
  evaluate: (at: Float64Array) => LikelihoodPoint,
  { origin, axes }: AffineSpace,
): (free: Float64Array) => LikelihoodPoint {
  return (free) => {
    const { logLikelihood, score, information } = evaluate(pointAt({ origin, axes }, free));
    const turned = axes.map((axis) =>
      origin.map((_, place) =>
        axis.reduce(
          (sum, weight, a) => sum + weight * (information[Math.max(a, place)]?.[Math.min(a, place)] ?? 0),
          0,
        ),
      ),
    );
    return {
      logLikelihood,
      score: axes.map((axis) => dot(axis, score)),
      information: turned.map((row) => axes.map((axis) => dot(axis, row))),
    };
  };
}

/** The point of the whole that what is free stands for. */
export function pointAt({ origin, axes }: AffineSpace, free: ArrayLike<number>): Float64Array {
  const at = Float64Array.from(origin);
  axes.forEach((axis, k) => {
    for (let place = 0; place < at.length; place += 1) at[place]! += (free[k] ?? 0) * (axis[place] ?? 0);
  });
  return at;
}

/** Everything free but the linear combination `weights`, which is held at `value`; the pivot carries the largest weight. */
export function holding(weights: readonly number[], value: number): AffineSpace {
  const pivot = weights.reduce(
    (best, weight, at) => (Math.abs(weight) > Math.abs(weights[best] ?? 0) ? at : best),
    0,
  );
  const size = weights[pivot] ?? 1;
  const others = [...weights.keys()].filter((at) => at !== pivot);
  return {
    origin: weights.map((_, at) => (at === pivot ? value / size : 0)),
    axes: others.map((other) =>
      weights.map((_, at) => (at === other ? 1 : at === pivot ? -(weights[other] ?? 0) / size : 0)),
    ),
  };
}

/** Everything free but the places named, which are held at 0. */
export function withoutPlaces(width: number, places: readonly number[]): AffineSpace {
  const free = Array.from({ length: width }, (_, at) => at).filter((at) => !places.includes(at));
  return {
    origin: new Array<number>(width).fill(0),
    axes: free.map((one) => Array.from({ length: width }, (_, at) => (at === one ? 1 : 0))),
  };
}

/** Where what is free stands at a point of the whole: axes have a 1 at a place that no other axis has. */
export function freeAt({ axes }: AffineSpace, at: ArrayLike<number>): number[] {
  return axes.map((axis, k) => {
    const own = axis.findIndex(
      (weight, place) => weight === 1 && axes.every((other, j) => j === k || other[place] === 0),
    );
    return at[own] ?? 0;
  });
}

function dot(a: readonly number[], b: ArrayLike<number>): number {
  return a.reduce((sum, value, at) => sum + value * (b[at] ?? 0), 0);
}
