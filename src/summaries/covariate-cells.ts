import { ArgumentError } from "../base/errors.ts";

/** How many units stand in a cell, and how many persons own them. */
export interface CellCount {
  readonly units: number;
  readonly persons: number;
}

/** The rows of a table with their groups and owners, ordered so that the rows of one person follow each other. */
export interface TableRows {
  readonly rows: Int32Array;
  readonly groups: Int32Array;
  readonly persons: Int32Array;
  readonly groupCount: number;
}

/**
 * Puts rows of one person side by side, so that persons can be counted in one pass without remembering them.
 *
 * @throws ArgumentError where the columns differ in length or a group code is no index of a label.
 */
export function tableRows(
  rows: ArrayLike<number>,
  groups: ArrayLike<number>,
  groupCount: number,
  persons: ArrayLike<number> | undefined,
): TableRows {
  if (groups.length !== rows.length || (persons !== undefined && persons.length !== rows.length)) {
    throw new ArgumentError("covariateTable: rows, group codes and persons must be of one length");
  }
  const places = placesByPerson(rows.length, persons);
  const ordered: TableRows = {
    rows: new Int32Array(rows.length),
    groups: new Int32Array(rows.length),
    persons: new Int32Array(rows.length),
    groupCount,
  };
  for (let at = 0; at < rows.length; at += 1) {
    // In range: all columns are of one length, and places are a permutation of it.
    const group = groups[at]!;
    if (!(group >= 0 && group < groupCount)) {
      throw new ArgumentError(
        `covariateTable: group codes must be whole numbers from 0 to ${groupCount - 1}`,
      );
    }
    const place = places.place[at]!;
    ordered.rows[place] = rows[at]!;
    ordered.groups[place] = group;
    ordered.persons[place] = places.person[at]!;
  }
  return ordered;
}

/** Units and persons by place and group. `placeOf` gives the place of a row, or −1 for none. */
export function countCells(
  { rows, groups, persons, groupCount }: TableRows,
  places: number,
  placeOf: (row: number) => number,
): readonly (readonly CellCount[])[] {
  const units = new Int32Array(places * groupCount);
  const owners = new Int32Array(places * groupCount);
  const lastOwner = new Int32Array(places * groupCount).fill(-1);
  for (let at = 0; at < rows.length; at += 1) {
    // In range: the columns are of one length, and groups were checked.
    const place = placeOf(rows[at]!);
    if (place < 0) continue;
    const cell = place * groupCount + groups[at]!;
    units[cell]! += 1;
    if (lastOwner[cell] !== persons[at]) owners[cell]! += 1;
    lastOwner[cell] = persons[at]!;
  }
  return Array.from({ length: places }, (_, place) =>
    Array.from({ length: groupCount }, (_, group) => {
      const cell = place * groupCount + group;
      return { units: units[cell] ?? 0, persons: owners[cell] ?? 0 };
    }),
  );
}

/** Where each row goes when rows are ordered by person, persons in the order met. */
function placesByPerson(size: number, persons: ArrayLike<number> | undefined) {
  const person = new Int32Array(size);
  const place = new Int32Array(size);
  const numberOf = new Map<number, number>();
  const sizes: number[] = [];
  for (let at = 0; at < size; at += 1) {
    // In range: persons were found as long as the rows.
    const code = persons === undefined ? at : persons[at]!;
    const number = numberOf.get(code) ?? numberOf.size;
    if (number === numberOf.size) numberOf.set(code, number);
    person[at] = number;
    sizes[number] = (sizes[number] ?? 0) + 1;
  }
  let total = 0;
  const next = sizes.map((count) => {
    const start = total;
    total += count;
    return start;
  });
  for (let at = 0; at < size; at += 1) place[at] = next[person[at]!]!++;
  return { person, place };
}
