import type { Observations } from "./observations.ts";

/** Row numbers of each group and stratum, cells over groups, then strata. Rows of weight 0 are left out. */
export function rowsByCell({ rows, group, stratum, weight }: Observations): Uint32Array[] {
  const strata = stratum.labels.length;
  const cells = group.labels.length * strata;
  const sizes = new Uint32Array(cells);
  const cellOf = new Uint32Array(rows);
  const LEFT_OUT = cells;
  for (let row = 0; row < rows; row += 1) {
    // Codes were checked against their labels: in range.
    const cell = weight?.values[row] === 0 ? LEFT_OUT : group.codes[row]! * strata + stratum.codes[row]!;
    cellOf[row] = cell;
    if (cell !== LEFT_OUT) sizes[cell]! += 1;
  }
  const lists = Array.from(sizes, (size) => new Uint32Array(size));
  const filled = new Uint32Array(cells);
  for (let row = 0; row < rows; row += 1) {
    const cell = cellOf[row]!;
    if (cell !== LEFT_OUT) lists[cell]![filled[cell]!++] = row;
  }
  return lists;
}
