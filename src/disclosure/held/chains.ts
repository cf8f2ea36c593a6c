/** Counts of one thing up to one year after another; the one over all follow-up stands at infinity. */
export type Chains = ReadonlyMap<
  string,
  readonly { readonly year: number; readonly units: number; readonly key: string }[]
>;

/** Finds the counts that say up to which year they go: "X/to:5", and "X" where there is one. */
export function chainsByTime(counts: ReadonlyMap<string, number>): Chains {
  const chains = new Map<string, { year: number; units: number; key: string }[]>();
  for (const [key, units] of counts) {
    const [, series, year] = /^(.+)\/to:(\d+(?:\.\d+)?)$/.exec(key) ?? [];
    if (series === undefined) continue;
    const chain = chains.get(series) ?? [];
    chains.set(series, [...chain, { year: Number(year), units, key }]);
  }
  for (const [series, chain] of chains) {
    const overall = counts.get(series);
    if (overall !== undefined) chain.push({ year: Number.POSITIVE_INFINITY, units: overall, key: series });
    chain.sort((a, b) => a.year - b.year);
  }
  return chains;
}
