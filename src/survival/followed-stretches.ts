/** A time over which somebody was under observation throughout. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Stretches of follow-up in order of time. Only with delayed entry can there be several, or one that starts late. */
export function followedStretches(time: ArrayLike<number>, atRisk: ArrayLike<number>): Stretch[] {
  const stretches: Stretch[] = [];
  let from: number | undefined;
  for (let step = 0; step < time.length; step += 1) {
    const before = step === 0 ? 0 : (time[step - 1] ?? 0);
    // As many are at risk since the step before.
    if ((atRisk[step] ?? 0) > 0) from ??= before;
    else if (from !== undefined) {
      stretches.push({ from, to: before });
      from = undefined;
    }
  }
  if (from !== undefined) stretches.push({ from, to: time[time.length - 1] ?? 0 });
  return stretches;
}
