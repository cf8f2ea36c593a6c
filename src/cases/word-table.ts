import { CELL } from "./cell-status.ts";
import type { MissingWords } from "./missing-words.ts";

export interface ClosedWord {
  readonly value: string;
  readonly label: string;
  /** Other spellings that the standard gives the same meaning. */
  readonly alsoWritten: readonly string[];
}

export interface WordTable {
  readonly codes: readonly string[];
  readonly labels: readonly string[];
  /** For each word of the file: the code it stands for, 0 where it stands for none. */
  readonly codeOfWord: Uint16Array;
  readonly statusOfWord: Uint8Array;
}

/**
 * What each word met in a column means.
 *
 * A word counts as spelt by the dictionary, else without regard to case and surrounding spaces where that
 * points at one meaning only. Without a closed list every word that is not missing is a code of its own, in
 * ascending order of code units.
 */
export function wordTable(
  words: readonly string[],
  closed: readonly ClosedWord[] | undefined,
  missing: MissingWords,
): WordTable {
  const missingMeanings = missing.words.map((value, index) => ({
    value,
    meaning: { code: 0, status: index + 1 },
  }));
  const list = closed ?? openList(words, missing);
  const codeMeanings = list.flatMap(({ value, alsoWritten }, code) =>
    [...new Set([value, ...alsoWritten])].map((word) => ({
      value: word,
      meaning: { code, status: CELL.present },
    })),
  );
  const exact = new Map([...missingMeanings, ...codeMeanings].map(({ value, meaning }) => [value, meaning]));
  const folded = unambiguous([...missingMeanings, ...codeMeanings]);
  const meanings = words.map((word): Meaning => {
    const meaning = exact.get(word);
    if (meaning !== undefined) return meaning;
    if (word.trim() === "") return { code: 0, status: missing.blank };
    const near = folded.get(fold(word));
    if (near === undefined) return { code: 0, status: CELL.unreadable };
    return near.status === CELL.present ? { code: near.code, status: CELL.respelt } : near;
  });
  return {
    codes: list.map(({ value }) => value),
    labels: list.map(({ label }) => label),
    codeOfWord: Uint16Array.from(meanings, ({ code }) => code),
    statusOfWord: Uint8Array.from(meanings, ({ status }) => status),
  };
}

interface Meaning {
  readonly code: number;
  readonly status: number;
}

function fold(word: string): string {
  return word.trim().toLowerCase();
}

function openList(words: readonly string[], missing: MissingWords): ClosedWord[] {
  const absent = new Set(missing.words.map(fold));
  return words
    .filter((word) => word.trim() !== "" && !absent.has(fold(word)))
    .sort()
    .map((value) => ({ value, label: value, alsoWritten: [] }));
}

function unambiguous(
  entries: readonly { readonly value: string; readonly meaning: Meaning }[],
): Map<string, Meaning> {
  const found = new Map<string, Meaning>();
  const clashing = new Set<string>();
  for (const { value, meaning } of entries) {
    const key = fold(value);
    const earlier = found.get(key);
    if (earlier !== undefined && (earlier.code !== meaning.code || earlier.status !== meaning.status))
      clashing.add(key);
    found.set(key, meaning);
  }
  for (const key of clashing) found.delete(key);
  return found;
}
