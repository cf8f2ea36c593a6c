/** log of a tail at a point and the slope of that log there. */
export interface LogTail {
  readonly log: number;
  readonly slope: number;
}

const CLOSE = 4e-16;
const MOST_STEPS = 400;

/**
 * The point at which the log of a monotone tail equals the target.
 *
 * Newton on the log of the tail, which is nearly straight far out, kept between the nearest points known to lie on
 * either side. Steps grow only by doubling: a flat start must not throw the search out of the range of numbers.
 */
export function quantileSearch(
  logTail: (at: number) => LogTail,
  target: number,
  start: number,
  direction: "rising" | "falling",
): number {
  let at = start;
  let below = Number.NEGATIVE_INFINITY;
  let above = Number.POSITIVE_INFINITY;
  let reach = 1;
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const tail = logTail(at);
    const excess = tail.log - target;
    if (excess === 0) return at;
    // Not from the sign of the slope, which underflows to 0 where the tail is flat.
    const isBelow = excess < 0 === (direction === "rising");
    if (isBelow) below = at;
    else above = at;
    const newton = -excess / tail.slope;
    let move = Number.isFinite(newton) ? newton : isBelow ? reach : -reach;
    if (Math.abs(move) > reach) {
      move = Math.sign(move) * reach;
      reach *= 2;
    }
    const next = at + move;
    // Before the bracket is asked: a step lost in rounding would land on a bound and look like a bad one.
    if (Math.abs(next - at) <= CLOSE * Math.max(1, Math.abs(at))) return next;
    at = next <= below || next >= above ? (below + above) / 2 : next;
  }
  return at;
}
