import type { Observations } from "./observations.ts";

/** Row numbers of each group and stratum, cells over groups, then strata. Rows of weight 0 are left out. */
export function rowsByCell({ rows, group, stratum, weight }: Observations): Uint32Array[] {
  const strata = stratum.labels.length;
  const cells = group.labels.length * strata;
  const [groups, strataOf, weights] = [group.codes, stratum.codes, weight?.values];
  const sizes = new Uint32Array(cells);
  // Codes were checked against their labels, so every cell below is in range.
  for (let row = 0; row < rows; row += 1) {
    if (weights === undefined || weights[row]! > 0) sizes[groups[row]! * strata + strataOf[row]!]! += 1;
  }
  const lists = Array.from(sizes, (size) => new Uint32Array(size));
  const filled = new Uint32Array(cells);
  for (let row = 0; row < rows; row += 1) {
    if (weights !== undefined && weights[row] === 0) continue;
    const cell = groups[row]! * strata + strataOf[row]!;
    lists[cell]![filled[cell]!++] = row;
  }
  return lists;
}
