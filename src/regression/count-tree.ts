/** Running totals by rank: adding and asking cost the logarithm of the number of ranks. */
export function countTree(ranks: Int32Array) {
  const size = ranks.reduce((most, rank) => Math.max(most, rank), -1) + 1;
  const nodes = new Float64Array(size + 1);
  const own = new Float64Array(size);
  let all = 0;
  return {
    add(rank: number, value: number): void {
      own[rank]! += value;
      all += value;
      for (let node = rank + 1; node <= size; node += node & -node) nodes[node]! += value;
    },
    /** Total of the ranks below. */
    below(rank: number): number {
      let sum = 0;
      for (let node = rank; node > 0; node -= node & -node) sum += nodes[node]!;
      return sum;
    },
    at: (rank: number): number => own[rank]!,
    total: (): number => all,
  };
}
