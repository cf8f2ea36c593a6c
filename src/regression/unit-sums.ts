import type { Units } from "../survival/units.ts";
import type { CoxRows } from "./cox-rows.ts";

/** Adds up what rows share, by independent unit. */
export interface UnitSums {
  /** Units with rows. */
  readonly seen: number;
  /** Sums of what each row shares, its weight included. */
  readonly of: (shares: Float64Array) => Float64Array;
}

/**
 * Sums by unit for any number of things shared, set up once.
 *
 * In the order of the units, or in "any": rows that are all units of their own then keep their places and need no sorting.
 */
export function unitSums(
  rows: Pick<CoxRows, "count" | "row" | "weight">,
  units: Pick<Units, "codes" | "count" | "factor">,
  order: "units" | "any",
): UnitSums {
  const unit = unitOfPlaces(rows, units);
  const again = repeats(rows, units);
  const seen = units.codes === undefined ? rows.count : unitsWithRows(unit, units.count);
  if (order === "any" && seen === rows.count) {
    return {
      seen,
      of: (shares) => (again === undefined ? shares : shares.map((share, i) => again[i]! * share)),
    };
  }
  return {
    seen,
    of: (shares) => {
      const sums = new Float64Array(units.count);
      // Every place has a unit.
      for (let i = 0; i < shares.length; i += 1) {
        sums[unit[i]!]! += again === undefined ? shares[i]! : again[i]! * shares[i]!;
      }
      return sums;
    },
  };
}

function unitOfPlaces({ row }: Pick<CoxRows, "row">, { codes }: Pick<Units, "codes">): Int32Array {
  if (codes === undefined) return row;
  const unit = new Int32Array(row.length);
  for (let i = 0; i < row.length; i += 1) unit[i] = codes[row[i]!]!;
  return unit;
}

/** Shares carry the weight already; a copy that is a unit of its own adds its own square. */
function repeats(
  { row, weight }: Pick<CoxRows, "row" | "weight">,
  { factor }: Pick<Units, "factor">,
): Float64Array | undefined {
  return weight?.map((own, i) => factor(row[i]!) / own);
}

function unitsWithRows(unit: Int32Array, count: number): number {
  const isSeen = new Uint8Array(count);
  let seen = 0;
  for (let i = 0; i < unit.length; i += 1) {
    if (isSeen[unit[i]!] === 0) seen += 1;
    isSeen[unit[i]!] = 1;
  }
  return seen;
}
