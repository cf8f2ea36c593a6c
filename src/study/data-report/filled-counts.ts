import type { Column } from "../../base/column.ts";
import { UNREADABLE_REASON } from "../../cases/cell-status.ts";
import type { UnitCount } from "../../technique/row-codes.ts";
import { type RowsByLevel, unitsByKind } from "./units-by-level.ts";

/** How many units hold a value and how many do not. */
export interface FilledCount {
  readonly filled: UnitCount;
  readonly empty: UnitCount;
}

const NONE: UnitCount = { units: 0, persons: 0 };

/** At each level, how many units and persons have a value in the column. */
export function filledByLevel({ missing }: Column, levels: readonly RowsByLevel[]): FilledCount[][] {
  if (isWhole(missing)) {
    return levels.map(({ sizes }) => sizes.map((filled) => ({ filled, empty: NONE })));
  }
  const kindOfMark = new Uint8Array(256).fill(1, 1);
  return levels.map((grouped) =>
    unitsByKind(grouped, { marks: missing, kindOfMark, kinds: 2 }).map(([filled = NONE, empty = NONE]) => ({
      filled,
      empty,
    })),
  );
}

/** Units whose cell is no value: a text that could not be read, or none. */
export function missingUnits({ missing, missingReasons }: Column, everybody: RowsByLevel) {
  if (isWhole(missing)) return { blank: NONE, unreadable: NONE };
  const kindOfMark = new Uint8Array(256).fill(1, 1);
  const unreadableMark = missingReasons.indexOf(UNREADABLE_REASON) + 1;
  if (unreadableMark > 0) kindOfMark[unreadableMark] = 2;
  const kinds = { marks: missing, kindOfMark, kinds: 3 };
  const [[, blank = NONE, unreadable = NONE] = []] = unitsByKind(everybody, kinds);
  return { blank, unreadable };
}

function isWhole(missing: Uint8Array): boolean {
  for (let row = 0; row < missing.length; row += 1) if (missing[row] !== 0) return false;
  return true;
}
