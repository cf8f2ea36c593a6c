import type { ObservationColumns } from "../../src/survival/observations.ts";

/** At risk, events and product-limit survival by asking every row at every tick: slow, short and easy to believe. */
export function naiveSurvival(columns: ObservationColumns, group: number) {
  const rows = Array.from({ length: columns.exit.length }, (_, row) => ({
    exit: columns.exit[row] ?? 0,
    event: columns.event[row] ?? 0,
    entry: columns.entry?.[row] ?? -1,
    weight: columns.weight?.values[row] ?? 1,
    group: columns.group?.codes[row] ?? 0,
  })).filter((row) => row.group === group && row.weight > 0);
  const ticks = [...new Set(rows.flatMap(({ exit, entry }) => (entry >= 0 ? [exit, entry] : [exit])))];
  ticks.sort((a, b) => a - b);
  const total = (some: typeof rows) => some.reduce((sum, { weight }) => sum + weight, 0);
  let survival = 1;
  let greenwood = 0;
  return ticks.map((tick) => {
    const atRisk = total(rows.filter(({ entry, exit }) => entry < tick && tick <= exit));
    const events = total(rows.filter(({ exit, event }) => exit === tick && event > 0));
    const censored = total(rows.filter(({ exit, event }) => exit === tick && event === 0));
    if (events > 0) {
      survival *= 1 - events / atRisk;
      greenwood += atRisk > events ? events / (atRisk * (atRisk - events)) : 0;
    }
    return { tick, atRisk, events, censored, survival, standardError: survival * Math.sqrt(greenwood) };
  });
}

/** Log-rank score and covariance by asking every row at every tick of every stratum. */
export function naiveLogRank(columns: ObservationColumns, groups: number) {
  const rows = Array.from({ length: columns.exit.length }, (_, row) => ({
    exit: columns.exit[row] ?? 0,
    event: columns.event[row] ?? 0,
    entry: columns.entry?.[row] ?? -1,
    group: columns.group?.codes[row] ?? 0,
    stratum: columns.stratum?.codes[row] ?? 0,
  }));
  const score = new Array<number>(groups).fill(0);
  const covariance = score.map(() => new Array<number>(groups).fill(0));
  for (const stratum of new Set(rows.map((row) => row.stratum))) {
    const own = rows.filter((row) => row.stratum === stratum);
    for (const tick of new Set(own.filter(({ event }) => event > 0).map(({ exit }) => exit))) {
      const atRisk = own.filter(({ entry, exit }) => entry < tick && tick <= exit);
      const dead = own.filter(({ exit, event }) => exit === tick && event > 0);
      const [n, d] = [atRisk.length, dead.length];
      for (let g = 0; g < groups; g += 1) {
        const share = atRisk.filter(({ group }) => group === g).length / n;
        score[g]! += dead.filter(({ group }) => group === g).length - d * share;
        for (let h = 0; h < groups && n > 1; h += 1) {
          const other = atRisk.filter(({ group }) => group === h).length / n;
          covariance[g]![h]! += ((d * (n - d)) / (n - 1)) * share * ((g === h ? 1 : 0) - other);
        }
      }
    }
  }
  return { score, covariance };
}
