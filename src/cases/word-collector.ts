import type { DuckDBVector } from "@duckdb/node-api";
import { LONGEST_INLINE, longText, slotText, type TextSlots, textSlots } from "./raw-vector.ts";

/** The different texts of a column, and which of them each record holds. */
export interface CollectedWords {
  readonly words: readonly string[];
  readonly indexOfRow: Int32Array | Uint8Array;
}

export interface WordCollector {
  take(vector: DuckDBVector, offset: number): void;
  /** The words in ascending order of code units. */
  finish(): CollectedWords;
}

/**
 * Collects the words of a column without making a text of each cell.
 *
 * Short texts are compared as the three whole numbers in which they are stored; a hash table of our own finds them.
 * Long ones go through a Map.
 */
export function wordCollector(rows: number): WordCollector {
  const indexOfRow = new Int32Array(rows);
  const words: string[] = [];
  const longWords = new Map<string, number>();
  const short = shortWords();

  function take(vector: DuckDBVector, offset: number): void {
    const slots = textSlots(vector);
    for (let item = 0; item < vector.itemCount; item += 1) {
      indexOfRow[offset + item] =
        slots.length(item) <= LONGEST_INLINE ? shortIndex(slots, item) : longIndex(vector, item);
    }
  }

  function shortIndex(slots: TextSlots, item: number): number {
    const found = short.find(slots, item, words.length);
    if (found === words.length) words.push(slotText(slots, item));
    return found;
  }

  function longIndex(vector: DuckDBVector, item: number): number {
    const text = longText(vector, item);
    const found = longWords.get(text);
    if (found !== undefined) return found;
    longWords.set(text, words.length);
    return words.push(text) - 1;
  }

  return { take, finish: () => inOrder(words, indexOfRow) };
}

const PARTS = 3;

/** A hash table from the three numbers of a short text to the index under which it was first met. */
function shortWords() {
  let capacity = 1 << 8;
  let place = new Int32Array(capacity).fill(-1);
  let keys = new Int32Array(PARTS * capacity);
  let indexes = new Int32Array(capacity);
  let size = 0;

  function slotOf(first: number, second: number, third: number): number {
    let slot = mixed(first, second, third) & (capacity - 1);
    for (;;) {
      const entry = place[slot] ?? -1;
      if (entry < 0) return slot;
      const at = PARTS * entry;
      if (keys[at] === first && keys[at + 1] === second && keys[at + 2] === third) return slot;
      slot = (slot + 1) & (capacity - 1);
    }
  }

  function grow(): void {
    capacity *= 2;
    const [oldKeys, oldIndexes] = [keys, indexes];
    keys = new Int32Array(PARTS * capacity);
    keys.set(oldKeys);
    indexes = new Int32Array(capacity);
    indexes.set(oldIndexes);
    place = new Int32Array(capacity).fill(-1);
    for (let entry = 0; entry < size; entry += 1) {
      const at = PARTS * entry;
      // Entries below the size are set.
      place[slotOf(keys[at]!, keys[at + 1]!, keys[at + 2]!)] = entry;
    }
  }

  return {
    /** The index of the text, or `next` where it is new; a new text is remembered under `next`. */
    find(slots: TextSlots, item: number, next: number): number {
      const first = slots.part(item, 0);
      const second = slots.part(item, 1);
      const third = slots.part(item, 2);
      const slot = slotOf(first, second, third);
      const entry = place[slot] ?? -1;
      if (entry >= 0) return indexes[entry] ?? next;
      keys.set([first, second, third], PARTS * size);
      indexes[size] = next;
      place[slot] = size;
      size += 1;
      if (2 * size > capacity) grow();
      return next;
    },
  };
}

function mixed(first: number, second: number, third: number): number {
  let hash = Math.imul(first, 0x9e3779b1) ^ Math.imul(second, 0x85ebca6b) ^ Math.imul(third, 0xc2b2ae35);
  hash = Math.imul(hash ^ (hash >>> 15), 0x2c1b3c6d);
  return hash ^ (hash >>> 13);
}

function inOrder(words: readonly string[], indexOfRow: Int32Array): CollectedWords {
  const order = words.map((_, index) => index).sort((a, b) => ((words[a] ?? "") < (words[b] ?? "") ? -1 : 1));
  const rank = new Int32Array(words.length);
  order.forEach((index, place) => {
    rank[index] = place;
  });
  return {
    words: order.map((index) => words[index] ?? ""),
    indexOfRow: indexOfRow.map((index) => rank[index] ?? 0),
  };
}
