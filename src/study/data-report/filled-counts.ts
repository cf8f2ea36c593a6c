import { type Column, isPresent } from "../../base/column.ts";
import type { RowCodes, UnitCount } from "../../technique/row-codes.ts";
import { NO_LEVEL, type RowLevels } from "../../technique/row-levels.ts";

/** How many units hold a value and how many do not. */
export interface FilledCount {
  readonly filled: UnitCount;
  readonly empty: UnitCount;
}

/** Rows of each level one after another, so that one mark a person is enough to count persons. */
export interface RowsByLevel {
  readonly labels: readonly string[];
  readonly rows: Int32Array;
  /** Level k lies from ends[k − 1] (0 for the first) to before ends[k]. */
  readonly ends: readonly number[];
}

/** Puts the rows in the order of their levels; rows of no level are left out. */
export function rowsByLevel({ labels, codes }: Pick<RowLevels, "labels" | "codes">): RowsByLevel {
  const next = new Int32Array(labels.length + 1);
  for (const code of codes) if (code !== NO_LEVEL) next[code + 1]! += 1;
  for (let at = 1; at < next.length; at += 1) next[at]! += next[at - 1]!;
  const ends = [...next.subarray(1)];
  const rows = new Int32Array(ends.at(-1) ?? 0);
  codes.forEach((code, row) => {
    if (code === NO_LEVEL) return;
    // In range: codes are indexes into the labels.
    rows[next[code]!] = row;
    next[code]! += 1;
  });
  return { labels, rows, ends };
}

/** At each level, how many units and persons have a value in the column. */
export function filledByLevel(column: Column, { rows, ends }: RowsByLevel, persons: RowCodes): FilledCount[] {
  const seen = {
    filled: new Int32Array(persons.count).fill(-1),
    empty: new Int32Array(persons.count).fill(-1),
  };
  return ends.map((end, level) => {
    const units = { filled: 0, empty: 0 };
    const owners = { filled: 0, empty: 0 };
    for (let at = level === 0 ? 0 : ends[level - 1]!; at < end; at += 1) {
      // In range: rows and persons are indexes made by this package.
      const row = rows[at]!;
      const kind = isPresent(column, row) ? "filled" : "empty";
      const person = persons.codes[row]!;
      units[kind] += 1;
      if (seen[kind][person] !== level) owners[kind] += 1;
      seen[kind][person] = level;
    }
    return {
      filled: { units: units.filled, persons: owners.filled },
      empty: { units: units.empty, persons: owners.empty },
    };
  });
}
