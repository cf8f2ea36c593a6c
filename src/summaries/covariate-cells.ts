import { ArgumentError } from "../base/errors.ts";

/** How many units stand in a cell, and how many persons own them. */
export interface CellCount {
  readonly units: number;
  readonly persons: number;
}

/** The rows of a table with their groups and owners; three parallel columns. */
export interface TableRows {
  readonly rows: ArrayLike<number>;
  readonly groups: ArrayLike<number>;
  readonly groupCount: number;
  readonly persons: ArrayLike<number> | undefined;
}

/**
 * Units and persons by place and group, in one pass. `placeOf` gives the place of a row, or −1 for none.
 *
 * @throws ArgumentError where a group code is no index of a label.
 */
export function countCells(
  { rows, groups, groupCount, persons }: TableRows,
  places: number,
  placeOf: (row: number) => number,
): readonly (readonly CellCount[])[] {
  const units = new Int32Array(places * groupCount);
  const owners = Array.from({ length: places * groupCount }, () => new Set<number>());
  for (let at = 0; at < rows.length; at += 1) {
    // In range: the columns are of one length.
    const group = groups[at]!;
    if (!(group >= 0 && group < groupCount)) {
      throw new ArgumentError(
        `covariateTable: group codes must be whole numbers from 0 to ${groupCount - 1}`,
      );
    }
    const place = placeOf(rows[at]!);
    if (place < 0) continue;
    const cell = place * groupCount + group;
    units[cell]! += 1;
    if (persons !== undefined) owners[cell]?.add(persons[at]!);
  }
  return Array.from({ length: places }, (_, place) =>
    Array.from({ length: groupCount }, (_, group) => {
      const cell = place * groupCount + group;
      const count = units[cell] ?? 0;
      return { units: count, persons: persons === undefined ? count : (owners[cell]?.size ?? 0) };
    }),
  );
}
