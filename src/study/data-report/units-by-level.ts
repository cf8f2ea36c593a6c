import { ArgumentError } from "../../base/errors.ts";
import type { RowCodes, UnitCount } from "../../technique/row-codes.ts";
import { NO_LEVEL, type RowLevels } from "../../technique/row-levels.ts";

/** Rows of each level one after another, so that one mark a person is enough to count persons. */
export interface RowsByLevel {
  readonly rows: Int32Array;
  /** Level k lies from ends[k − 1] (0 for the first) to before ends[k]. */
  readonly ends: readonly number[];
  /** The person who owns each of the rows, in the same order. */
  readonly owners: Int32Array;
  readonly persons: number;
  /** How many units and persons each level has. */
  readonly sizes: readonly UnitCount[];
}

/** Puts the rows in the order of their levels; rows of no level are left out. */
export function rowsByLevel(
  { labels, codes }: Pick<RowLevels, "labels" | "codes">,
  persons: RowCodes,
): RowsByLevel {
  const next = new Int32Array(labels.length + 1);
  for (const code of codes) if (code !== NO_LEVEL) next[code + 1]! += 1;
  for (let at = 1; at < next.length; at += 1) next[at]! += next[at - 1]!;
  const ends = [...next.subarray(1)];
  const rows = new Int32Array(ends.at(-1) ?? 0);
  const owners = new Int32Array(rows.length);
  for (let row = 0; row < codes.length; row += 1) {
    // In range: codes are indexes into the labels.
    const code = codes[row]!;
    if (code === NO_LEVEL) continue;
    const place = next[code]!;
    next[code] = place + 1;
    rows[place] = row;
    owners[place] = persons.codes[row]!;
  }
  const placed = { rows, ends, owners, persons: persons.count };
  const sizes = unitsByKind(placed, { marks: new Uint8Array(codes.length), kinds: 1 }).map(
    ([all]) => all ?? NOBODY,
  );
  return { ...placed, sizes };
}

const NOBODY: UnitCount = { units: 0, persons: 0 };

/** What each row is, as one of a few kinds that count from 0. */
export interface RowKinds {
  /** A mark for each row of the export. */
  readonly marks: Uint8Array;
  /** The kind that each mark stands for. Default: a mark is its kind. */
  readonly kindOfMark?: Uint8Array;
  readonly kinds: number;
}

const AS_MARKED = Uint8Array.from({ length: 256 }, (_, mark) => mark);
const MOST_KINDS = 4;
/** Level and kinds of a person share the 31 bits of one whole number. */
const MOST_LEVELS = 1 << (31 - MOST_KINDS);

/**
 * At each level, how many units are of each kind, and how many persons own them.
 *
 * One pass whatever the number of kinds: pages are made of exports of millions of rows.
 */
export function unitsByKind(
  { rows, ends, owners, persons }: Omit<RowsByLevel, "sizes">,
  { marks, kindOfMark = AS_MARKED, kinds }: RowKinds,
): UnitCount[][] {
  if (kinds > MOST_KINDS || ends.length > MOST_LEVELS) {
    throw new ArgumentError(
      `unitsByKind: takes up to ${MOST_KINDS} kinds and ${MOST_LEVELS} levels; received ${kinds} and ${ends.length}`,
    );
  }
  // The last level at which a person was met, and as what: a bit for each kind.
  const met = new Int32Array(persons).fill(-1);
  let at = 0;
  return ends.map((end, level) => {
    const units = new Int32Array(kinds);
    const owning = new Int32Array(kinds);
    for (; at < end; at += 1) {
      // In range: rows, persons and kinds are indexes made by this package.
      const kind = kindOfMark[marks[rows[at]!]!]!;
      const owner = owners[at]!;
      units[kind]! += 1;
      const before = met[owner]!;
      const bits = before >> MOST_KINDS === level ? before : level << MOST_KINDS;
      if ((bits & (1 << kind)) === 0) owning[kind]! += 1;
      met[owner] = bits | (1 << kind);
    }
    return Array.from(units, (count, kind) => ({ units: count, persons: owning[kind] ?? 0 }));
  });
}
