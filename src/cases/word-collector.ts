import { type CellBytes, isSame } from "./cell-bytes.ts";

/** The different texts of a column in the order in which they were met, and which of them each record holds. */
export interface CollectedWords {
  readonly words: readonly string[];
  readonly indexOfRow: Uint16Array | Uint32Array;
}

export interface WordCollector {
  take(row: number, cells: CellBytes, start: number, end: number): void;
  /** The row holds no word; its index means nothing. */
  skip(row: number): void;
  collected(): CollectedWords;
}

const MOST_IN_16_BITS = 1 << 16;
/** Places of the words met last, by their length and outer bytes. A power of two. */
const RECENT = 1 << 8;

/**
 * Collects the words of a column by their bytes, in a hash table of our own: a text is made once a word, not once a
 * cell.
 */
export function wordCollector(rows: number): WordCollector {
  const words: string[] = [];
  let indexOfRow: Uint16Array | Uint32Array = new Uint16Array(rows);
  // The bytes of all words, one after the other, and where each starts; the last entry is where the next will.
  let spelt = new Uint8Array(1 << 8);
  let starts = new Int32Array(1 << 8);
  // Index of a word plus 1, or 0 where the slot is free. The number of slots is a power of two.
  let slots = new Uint32Array(1 << 8);
  // Index of a word plus 1. Most columns hold few words, and finding one here spares the hash over all its bytes.
  const recent = new Uint32Array(RECENT);

  function take(row: number, cells: CellBytes, start: number, end: number): void {
    const { bytes } = cells;
    const place = start === end ? 0 : (31 * bytes[start]! + 7 * bytes[end - 1]! + end - start) & (RECENT - 1);
    const met = recent[place]!;
    if (met > 0 && isWord(met - 1, bytes, start, end)) indexOfRow[row] = met - 1;
    else {
      takeOther(row, cells, start, end);
      recent[place] = indexOfRow[row]! + 1;
    }
  }

  function takeOther(row: number, { bytes, text }: CellBytes, start: number, end: number): void {
    const slot = slotOf(bytes, start, end);
    // In range: the slot was found in the table.
    const known = slots[slot]!;
    if (known > 0) indexOfRow[row] = known - 1;
    else {
      slots[slot] = words.push(text(start, end));
      keepSpelling(bytes, start, end);
      if (words.length === MOST_IN_16_BITS + 1) indexOfRow = Uint32Array.from(indexOfRow);
      if (2 * words.length > slots.length) growTable();
      indexOfRow[row] = words.length - 1;
    }
  }

  /** The slot of the word, or the free one where it belongs. */
  function slotOf(bytes: Uint8Array, start: number, end: number): number {
    const last = slots.length - 1;
    let slot = hashOf(bytes, start, end) & last;
    for (;;) {
      const known = slots[slot]!;
      if (known === 0 || isWord(known - 1, bytes, start, end)) return slot;
      slot = (slot + 1) & last;
    }
  }

  function isWord(index: number, bytes: Uint8Array, start: number, end: number): boolean {
    const from = starts[index]!;
    const length = starts[index + 1]! - from;
    return length === end - start && isSame(spelt, from, bytes, start, length);
  }

  function keepSpelling(bytes: Uint8Array, start: number, end: number): void {
    const from = starts[words.length - 1]!;
    const to = from + end - start;
    if (to > spelt.length) {
      const larger = new Uint8Array(2 * to);
      larger.set(spelt);
      spelt = larger;
    }
    spelt.set(bytes.subarray(start, end), from);
    if (words.length === starts.length) {
      const larger = new Int32Array(2 * starts.length);
      larger.set(starts);
      starts = larger;
    }
    starts[words.length] = to;
  }

  function growTable(): void {
    slots = new Uint32Array(2 * slots.length);
    for (let index = 0; index < words.length; index += 1) {
      slots[slotOf(spelt, starts[index]!, starts[index + 1]!)] = index + 1;
    }
  }

  /** Any word will do where there is one. */
  function skip(row: number): void {
    indexOfRow[row] = 0;
  }

  return { take, skip, collected: () => ({ words, indexOfRow }) };
}

/** Spreads words over the table: each byte is mixed in, and the high bits brought down at the end. */
function hashOf(bytes: Uint8Array, start: number, end: number): number {
  let hash = end - start;
  for (let at = start; at < end; at += 1) hash = Math.imul(hash ^ bytes[at]!, 0x01000193);
  hash = Math.imul(hash ^ (hash >>> 15), 0x2c1b3c6d);
  return hash ^ (hash >>> 13);
}
