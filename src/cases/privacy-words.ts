import { isGivenName } from "./given-names.ts";
import type { IdentifierKind } from "./privacy-kinds.ts";
import { countNumbers } from "./privacy-numbers.ts";
import { wordShape } from "./word-shape.ts";

/** The words of a column and how many rows hold each. */
export interface CountedWords {
  readonly words: readonly string[];
  readonly rowsOf: (word: number) => number;
}

const EMAIL = /[^\s@]@[^\s@]+\.[a-z]{2,}/i;
const DATE = /^\d{1,4}[-./]\d{1,2}[-./]\d{1,4}/;
const INTERNATIONAL_CALL = /^(\+|00)[1-9][\d ()/.-]{7,}$/;
const NATIONAL_CALL = /^\(?0[1-9]\d{0,4}\)?[ /-][\d /-]{5,}$|^\(?[2-9]\d{2}\)?[ -]\d{3}-\d{4}$/;
const POSTCODE =
  /^([A-Z]{1,2}\d[A-Z\d]? \d[A-Z]{2}|[A-Z]\d[A-Z] ?\d[A-Z]\d|\d{4} [A-Z]{2}|\d{5}-\d{4}|\d{3} \d{2}|\d{2}-\d{3})$/;
const TITLED = /^(mrs?|ms|miss|dr|prof|herr|frau|mme|sra?|sig|dhr|mevr)\.? \p{Lu}\p{L}+/iu;
const PAIRED = /^\p{Lu}[\p{L}'’-]*\.?,?( \p{Lu}[\p{L}'’-]*\.?){1,3}$/u;
const INVERTED = /^\p{Lu}[\p{L}'’-]+, ?\p{Lu}[\p{L}'’. -]*$/u;
const CAPITALISED = /^\p{Lu}\p{Ll}{2,}([-'’ ]\p{Lu}\p{Ll}+)*$/u;

/** Signs from here on are no digit, plus or bracket. */
const LETTERS_FROM = 64;

/** So many different values are no code list. */
const FEWEST_DIFFERENT = 20;
/** Codes repeat; names of patients hardly do. */
const LEAST_DIFFERENT = 0.05;

/**
 * What the words of a column say about persons: kinds found, with the number of rows that hold them.
 *
 * A pattern that nothing else has (an e-mail address, a title before a name) counts from the first value on. One that a
 * code may have by chance counts only where most values of that form follow it, or where they differ as names do and
 * codes do not.
 */
export function identifiersInWords(
  counted: CountedWords,
  role: string | undefined,
): ReadonlyMap<IdentifierKind, number> {
  const found = new Map<IdentifierKind, number>();
  const candidates = candidatesOf(counted.words);
  const rowsWith = (places: readonly number[]) => places.reduce((sum, at) => sum + counted.rowsOf(at), 0);
  const wordsAt = (places: readonly number[]) => places.map((at) => counted.words[at] ?? "");
  const add = (kind: IdentifierKind, places: readonly number[], isEnough = places.length > 0) => {
    if (isEnough) found.set(kind, rowsWith(places));
  };
  const matching = (places: readonly number[], pattern: RegExp) =>
    places.filter((at) => pattern.test(counted.words[at] ?? ""));

  add("email", matching(candidates.withAt, EMAIL));
  const calls = candidates.digits.filter((at) => mayBeCall(counted.words[at] ?? ""));
  const national = matching(calls, NATIONAL_CALL);
  const international = matching(calls, INTERNATIONAL_CALL);
  const called = national.length >= 3 ? [...international, ...national] : international;
  add("telephone", called);
  if (called.length === 0) {
    const numbers = countNumbers(wordsAt(candidates.digits));
    if (numbers > 0) found.set("number", numbers);
  }
  const postcodes = matching(candidates.short, POSTCODE);
  add("postcode", postcodes, postcodes.length >= 3 && postcodes.length >= 0.8 * candidates.short.length);
  const texts = candidates.sentences;
  add("freeText", texts, isFreeText(counted, texts));
  addNames(counted, candidates.letters, role, add);
  return found;
}

/** Codes that begin with a letter are told apart by it alone: there may be a million of them. */
function mayBeCall(text: string): boolean {
  const first = text.charCodeAt(0);
  return first < LETTERS_FROM && !DATE.test(text);
}

interface Candidates {
  readonly withAt: readonly number[];
  /** Enough digits for a number that identifies. */
  readonly digits: readonly number[];
  /** Short, with digits beside letters or a gap. */
  readonly short: readonly number[];
  readonly sentences: readonly number[];
  /** Letters alone, in one to four words. */
  readonly letters: readonly number[];
}

/** One cheap look at every word, so that patterns are tried only where they can match. */
function candidatesOf(words: readonly string[]): Candidates {
  const found = {
    withAt: [] as number[],
    digits: [] as number[],
    short: [] as number[],
    sentences: [] as number[],
    letters: [] as number[],
  };
  for (let at = 0; at < words.length; at += 1) {
    // In range: counted by its length.
    const { digits, letters, gaps, hasAt, length } = wordShape(words[at]!);
    if (hasAt) found.withAt.push(at);
    if (digits >= 6 && letters <= 9 && length <= 24) found.digits.push(at);
    if (length <= 10 && digits >= 2 && (letters >= 2 || gaps === 1)) found.short.push(at);
    if (gaps >= 4 && letters >= 12) found.sentences.push(at);
    if (digits === 0 && letters >= 2 && gaps <= 3) found.letters.push(at);
  }
  return found;
}

/** Sentences differ from row to row; a long label of a code list comes back. */
function isFreeText({ words, rowsOf }: CountedWords, places: readonly number[]): boolean {
  const rows = places.reduce((sum, at) => sum + rowsOf(at), 0);
  const long = places.some((at) => (words[at] ?? "").split(/\s+/).length >= 8);
  return (places.length >= 3 || long) && places.length >= 0.5 * rows;
}

function addNames(
  { words, rowsOf }: CountedWords,
  places: readonly number[],
  role: string | undefined,
  add: (kind: IdentifierKind, places: readonly number[], isEnough: boolean) => void,
): void {
  const at = (test: (word: string) => boolean) => places.filter((place) => test(words[place] ?? ""));
  const differing = (found: readonly number[]) => {
    const rows = found.reduce((sum, place) => sum + rowsOf(place), 0);
    return found.length >= FEWEST_DIFFERENT && found.length >= LEAST_DIFFERENT * rows;
  };
  const titled = at((word) => TITLED.test(word));
  const paired = at((word) => PAIRED.test(word) || INVERTED.test(word));
  const inverted = at((word) => INVERTED.test(word));
  const given = at(
    (word) =>
      (CAPITALISED.test(word) || PAIRED.test(word) || INVERTED.test(word)) &&
      word.split(/[ ,]+/).some(isGivenName),
  );
  const single = at((word) => CAPITALISED.test(word));
  const ofSurgeons = role === "surgeon" ? at((word) => CAPITALISED.test(word) || PAIRED.test(word)) : [];
  const named = [...new Set([...titled, ...paired, ...single])];
  const isEnough =
    titled.length > 0 ||
    inverted.length >= 3 ||
    differing(paired) ||
    (differing(single) && single.length >= 0.8 * places.length) ||
    (given.length >= 3 && given.length >= 0.1 * places.length) ||
    (ofSurgeons.length > 0 && 2 * ofSurgeons.length >= words.length);
  add("name", named, isEnough);
}
