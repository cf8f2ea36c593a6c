import type { Column, TextColumn } from "../base/column.ts";

/** A whole number per row: equal values have equal codes, counted from 0 without gaps. */
export interface RowCodes {
  readonly codes: Int32Array;
  readonly count: number;
}

/** Codes of the columns already read: rules and a study ask for cases and patients again and again. */
const known = new WeakMap<Column, RowCodes>();

/**
 * Which rows share a value of a column, such as the patient or the surgeon.
 *
 * A row where the value is missing gets a code of its own: nothing says that it belongs to another. The same column
 * gives the same record, so its codes must not be changed.
 */
export function rowCodes(column: Column): RowCodes {
  const before = known.get(column);
  if (before !== undefined) return before;
  const codes =
    column.kind === "text"
      ? (codesInOrder(column) ?? codesOfTexts(column))
      : codesOfNumbers(column.values, column.missing);
  known.set(column, codes);
  return codes;
}

/** Calls back with each row whose code an earlier row has, and the first such row. */
export function forEachRepeat({ codes, count }: RowCodes, visit: (row: number, first: number) => void): void {
  const firstRow = new Int32Array(count).fill(-1);
  for (let row = 0; row < codes.length; row += 1) {
    // Codes are below their count.
    const first = firstRow[codes[row]!]!;
    if (first < 0) firstRow[codes[row]!] = row;
    else visit(row, first);
  }
}

function codesOfNumbers(values: ArrayLike<number>, missing: Uint8Array): RowCodes {
  const codes = new Int32Array(missing.length);
  const codeOf = new Map<number, number>();
  let count = 0;
  for (let row = 0; row < codes.length; row += 1) {
    // In range: a column has a value and a missing mark for every row.
    const value = values[row]!;
    const code = missing[row] === 0 ? codeOf.get(value) : undefined;
    if (code === undefined && missing[row] === 0) codeOf.set(value, count);
    codes[row] = code ?? count++;
  }
  return { codes, count };
}

/** Identifiers given in ascending order need no table: each is the one before or a new one. */
function codesInOrder({ values, missing }: TextColumn): RowCodes | undefined {
  const codes = new Int32Array(missing.length);
  let count = 0;
  let [before, codeBefore] = ["", -1];
  for (let row = 0; row < codes.length; row += 1) {
    // In range: a column has a value and a missing mark for every row.
    const text = values[row]!;
    if (missing[row] !== 0) codes[row] = count++;
    else if (codeBefore >= 0 && text === before) codes[row] = codeBefore;
    else if (codeBefore >= 0 && text < before) return undefined;
    else {
      codeBefore = count++;
      codes[row] = codeBefore;
      before = text;
    }
  }
  return { codes, count };
}

/** A hash table of our own: identifiers are nearly all different, for which a Map of texts takes three times as long. */
function codesOfTexts({ values, missing }: TextColumn): RowCodes {
  const codes = new Int32Array(missing.length);
  // First row of a text plus 1, or 0 where the slot is free; at most half of the slots are taken.
  const slots = new Int32Array(2 << (32 - Math.clz32(missing.length)));
  const last = slots.length - 1;
  let count = 0;
  for (let row = 0; row < codes.length; row += 1) {
    if (missing[row] !== 0) {
      codes[row] = count++;
      continue;
    }
    const text = values[row]!;
    let slot = hashOf(text) & last;
    while (slots[slot] !== 0 && values[slots[slot]! - 1] !== text) slot = (slot + 1) & last;
    if (slots[slot] === 0) {
      slots[slot] = row + 1;
      codes[row] = count++;
    } else codes[row] = codes[slots[slot]! - 1]!;
  }
  return { codes, count };
}

function hashOf(text: string): number {
  let hash = text.length;
  for (let at = 0; at < text.length; at += 1) hash = Math.imul(hash ^ text.charCodeAt(at), 0x01000193);
  // Numbered identifiers differ in their last signs only: the high bits are brought down, so that they spread.
  hash = Math.imul(hash ^ (hash >>> 15), 0x2c1b3c6d);
  return hash ^ (hash >>> 13);
}
