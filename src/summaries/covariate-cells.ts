import { ArgumentError } from "../base/errors.ts";
import { type DenseCodes, denseCodes } from "./dense-codes.ts";

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
  const owners = persons === undefined ? undefined : denseCodes("covariateTable", persons);
  const placeOf = owners === undefined ? undefined : placesOf(owners);
  const ordered: TableRows = {
    rows: new Int32Array(rows.length),
    groups: new Int32Array(rows.length),
    persons: new Int32Array(rows.length),
    groupCount,
  };
  for (let at = 0; at < rows.length; at += 1) {
    // In range: all columns are of one length, and the places are a permutation of it.
    const group = groups[at]!;
    if (!(group >= 0 && group < groupCount)) {
      throw new ArgumentError(
        `covariateTable: group codes must be whole numbers from 0 to ${groupCount - 1}`,
      );
    }
    const place = placeOf === undefined ? at : placeOf[at]!;
    ordered.rows[place] = rows[at]!;
    ordered.groups[place] = group;
    ordered.persons[place] = owners === undefined ? at : owners.codes[at]!;
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

/** Where each row goes when rows are ordered by person; rows of one person keep their order. */
function placesOf({ codes, size }: DenseCodes): Int32Array {
  const next = new Int32Array(size + 1);
  // In range, here and below: next has a place for every code and one more.
  for (const code of codes) next[code + 1]! += 1;
  for (let code = 0; code < size; code += 1) next[code + 1]! += next[code]!;
  const placeOf = new Int32Array(codes.length);
  for (let at = 0; at < codes.length; at += 1) placeOf[at] = next[codes[at]!]!++;
  return placeOf;
}
