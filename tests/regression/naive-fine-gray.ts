/** Plain rows for the naive twin. */
export interface NaiveRow {
  readonly exit: number;
  readonly event: number;
  readonly entry: number;
  readonly stratum: number;
  readonly x: readonly number[];
}

/** Chance of escaping censoring, and of having entered late, between a competing event and a later tick; row by row. */
export function naiveWeight(rows: readonly NaiveRow[], row: NaiveRow, tick: number): number {
  const mates = rows.filter(({ stratum }) => stratum === row.stratum);
  let weight = 1;
  for (let at = row.exit; at < tick; at += 1) {
    const free = mates.filter(
      ({ entry, exit, event }) => entry < at && exit >= at && !(exit === at && event !== 0),
    );
    const censored = free.filter(({ exit }) => exit === at).length;
    if (censored > 0) weight *= 1 - censored / free.length;
    const there = mates.filter(({ entry, exit }) => entry <= at && exit > at);
    const entered = there.filter(({ entry }) => entry === at && entry >= 0).length;
    if (entered > 0) weight /= 1 - entered / there.length;
  }
  return weight;
}

/** The log partial likelihood as it is written: every event over the weighted sum of everybody at risk. */
export function naiveLogLikelihood(rows: readonly NaiveRow[], beta: readonly number[]): number {
  const linear = ({ x }: NaiveRow) => x.reduce((sum, value, at) => sum + value * (beta[at] ?? 0), 0);
  return rows
    .filter(({ event }) => event === 1)
    .reduce((sum, own) => {
      const atRisk = rows.reduce((total, other) => {
        const isThere = other.entry < own.exit && other.exit >= own.exit;
        const isBeyond = other.event > 1 && other.exit < own.exit;
        if (!isThere && !isBeyond) return total;
        return total + (isBeyond ? naiveWeight(rows, other, own.exit) : 1) * Math.exp(linear(other));
      }, 0);
      return sum + linear(own) - Math.log(atRisk);
    }, 0);
}
