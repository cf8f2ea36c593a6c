import { type CellBytes, isSame } from "./cell-bytes.ts";
import { CELL } from "./cell-status.ts";
import type { MissingWords } from "./missing-words.ts";

/** The value that the bytes from `start` to before `end` spell, or undefined where they spell none. */
export type CellParser = (bytes: Uint8Array, start: number, end: number) => number | undefined;

export interface ValueCells {
  readonly values: Int32Array | Float64Array;
  readonly status: Uint8Array;
}

const SPACE = 0x20;
const ZERO = 0x30;

/** The digit that the byte stands for, or a number below 0. */
export function digitAt(bytes: Uint8Array, at: number): number {
  const digit = (bytes[at] ?? 0) - ZERO;
  return digit <= 9 ? digit : -1;
}

/** The whole number in exactly so many digits, or a number below 0. */
export function wholeNumberAt(bytes: Uint8Array, start: number, digits: number): number {
  let amount = 0;
  for (let at = start; at < start + digits; at += 1) {
    const digit = digitAt(bytes, at);
    if (digit < 0) return -1;
    amount = 10 * amount + digit;
  }
  return amount;
}

/**
 * Puts the values of cells into their place, and beside each its status.
 *
 * A missing word comes before the value, because 9999-12-31 or 999 would pass for one. Only what is neither is tried
 * again without the spaces around it. `otherFault` may give a cell that is no value a status of its own.
 */
export function valueTaker(
  { values, status }: ValueCells,
  parse: CellParser,
  missing: MissingWords,
  encode: (text: string) => Uint8Array | undefined,
  otherFault: (text: string) => number | undefined = () => undefined,
): (row: number, cells: CellBytes, start: number, end: number) => void {
  const words = missingMatcher(missing, encode);
  return (row, cells, start, end) => {
    const { bytes } = cells;
    const reason = words.reasonOf(bytes, start, end);
    const value = reason === 0 ? parse(bytes, start, end) : undefined;
    if (reason > 0) status[row] = reason;
    else if (value !== undefined) values[row] = value;
    else status[row] = statusOfTrimmed(row, cells, start, end);
  };

  function statusOfTrimmed(row: number, cells: CellBytes, from: number, to: number): number {
    const { bytes } = cells;
    let [start, end] = [from, to];
    while (start < end && bytes[start] === SPACE) start += 1;
    while (end > start && bytes[end - 1] === SPACE) end -= 1;
    const reason = words.reasonOf(bytes, start, end);
    if (reason > 0) return reason;
    const fault = otherFault(cells.text(start, end));
    if (fault !== undefined) return fault;
    const value = parse(bytes, start, end);
    if (value === undefined) return CELL.unreadable;
    values[row] = value;
    return CELL.spacesAround;
  }
}

function missingMatcher(
  { words, blank }: MissingWords,
  encode: (text: string) => Uint8Array | undefined,
): { reasonOf(bytes: Uint8Array, start: number, end: number): number } {
  // A word that the file's encoding cannot hold is in no cell of it.
  const declared = words.flatMap((word, index) => {
    const spelt = encode(word.trim());
    return spelt === undefined || spelt.length === 0 ? [] : [{ spelt, reason: index + 1 }];
  });
  // Most cells begin as no word for missing does.
  const mayBegin = new Uint8Array(256);
  for (const { spelt } of declared) mayBegin[spelt[0] ?? 0] = 1;
  return {
    reasonOf(bytes, start, end) {
      if (start === end) return blank;
      // In range: the cell has a byte, and the table an entry for every byte.
      if (mayBegin[bytes[start]!] === 0) return 0;
      for (const { spelt, reason } of declared) {
        if (spelt.length === end - start && isSame(spelt, 0, bytes, start, spelt.length)) return reason;
      }
      return 0;
    },
  };
}
