/** The first of those with the highest size, or undefined where there is none. */
export function highest<One>(all: readonly One[], sizeOf: (one: One) => number): One | undefined {
  return all.reduce<One | undefined>(
    (best, one) => (best === undefined || sizeOf(one) > sizeOf(best) ? one : best),
    undefined,
  );
}
