/** The top of a function by ever smaller steps along each coordinate: slow, and without derivatives. */
export function climb(value: (at: readonly number[]) => number, size: number, smallest = 1e-7): number[] {
  const at = new Array<number>(size).fill(0);
  let highest = value(at);
  for (let step = 1; step > smallest; ) {
    let isHigher = false;
    for (const k of at.keys()) {
      for (const sign of [1, -1]) {
        const tried = at.with(k, (at[k] ?? 0) + sign * step);
        const height = value(tried);
        if (!(height > highest)) continue;
        at.splice(0, at.length, ...tried);
        highest = height;
        isHigher = true;
      }
    }
    if (!isHigher) step /= 2;
  }
  return at;
}
