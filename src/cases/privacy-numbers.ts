import { wordShape } from "./word-shape.ts";

/** A published way of checking the digits of a record, insurance or national number. */
export interface NumberScheme {
  /** Digits and letters once spaces, hyphens and strokes are taken out. */
  readonly shape: RegExp;
  /** Fewest and most letters among them. */
  readonly letters: readonly [number, number];
  readonly isValid: (compact: string) => boolean;
  /** Share of arbitrary texts of that shape that would pass: how little one match says. */
  readonly chance: number;
  /** Texts that begin with the same signs count once: numbers given in a row agree by that, not by chance. */
  readonly countedBy?: number;
}

/** Share of a column's values of one shape that must pass before the column is taken for such numbers. */
const LEAST_SHARE = 0.8;
/** Largest probability that as many values pass by chance. */
const MOST_CHANCE = 1e-3;
const SOME = 1000;
const FEWEST_DIGITS = 6;
const NONE = [0, 0] as const;
const ONE = [1, 1] as const;
const LETTERS_OF_23 = "TRWAGMYFPDXBNJZSQVHLCKE";
const SIGNS_OF_31 = "0123456789ABCDEFHJKLMNPRSTUVWXY";

/**
 * Check-digit rules, by the standard or the rule's common name; countries and authorities share them.
 *
 * Sources: ISO/IEC 7812-1 annex B (the doubling rule named after Luhn); ISO 7064 (MOD 11,10 and MOD 97-10); weighted
 * sums modulo 11, 10, 97, 23 and 31 as issuing authorities publish them, from memory.
 */
export const NUMBER_SCHEMES: readonly NumberScheme[] = [
  { shape: /^\d{9,19}$/, letters: NONE, isValid: luhn, chance: 0.1 },
  {
    shape: /^\d{12}$/,
    letters: NONE,
    isValid: (text) => isBirthFirst(text.slice(2)) && luhn(text.slice(2)),
    chance: 0.01,
  },
  {
    shape: /^\d{10}$/,
    letters: NONE,
    isValid: (text) => weighted(text, [10, 9, 8, 7, 6, 5, 4, 3, 2, 1]) % 11 === 0,
    chance: 1 / 11,
  },
  {
    shape: /^\d{9}$/,
    letters: NONE,
    isValid: (text) => weighted(text, [9, 8, 7, 6, 5, 4, 3, 2, -1]) % 11 === 0,
    chance: 1 / 11,
  },
  {
    shape: /^\d{10}$/,
    letters: NONE,
    isValid: (text) => weighted(text, [4, 3, 2, 7, 6, 5, 4, 3, 2, 1]) % 11 === 0,
    chance: 1 / 11,
  },
  {
    shape: /^\d{11}$/,
    letters: NONE,
    isValid: (text) =>
      weighted(text, [3, 7, 6, 1, 8, 9, 4, 5, 2, 1]) % 11 === 0 &&
      weighted(text, [5, 4, 3, 2, 7, 6, 5, 4, 3, 2, 1]) % 11 === 0,
    chance: 1 / 121,
  },
  {
    shape: /^\d{11}$/,
    letters: NONE,
    isValid: (text) => weighted(text, [1, 3, 7, 9, 1, 3, 7, 9, 1, 3, 1]) % 10 === 0,
    chance: 0.1,
  },
  { shape: /^\d{11}$/, letters: NONE, isValid: modElevenTen, chance: 0.1 },
  { shape: /^\d{11}$/, letters: NONE, isValid: lastTwoOf97, chance: 1 / 97 },
  { shape: /^\d{13,15}$/, letters: NONE, isValid: lastTwoOf97, chance: 1 / 97 },
  { shape: /^\d{10,18}$/, letters: NONE, isValid: (text) => BigInt(text) % 97n === 1n, chance: 1 / 97 },
  {
    shape: /^[2-6]\d{9}$/,
    letters: NONE,
    isValid: (text) => weighted(text, [1, 3, 7, 9, 1, 3, 7, 9]) % 10 === Number(text[8]),
    chance: 0.1,
  },
  {
    shape: /^\d{8}[A-Z]$/,
    letters: ONE,
    isValid: (text) => LETTERS_OF_23[Number(text.slice(0, 8)) % 23] === text[8],
    chance: 1 / 23,
  },
  {
    shape: /^\d{6}[+A-F]?\d{3}[0-9A-Y]$/,
    letters: [0, 2],
    isValid: (text) => {
      const digits = text.replace(/[+A-F](?=\d{3})/, "");
      return digits.length === 10 && SIGNS_OF_31[Number(digits.slice(0, 9)) % 31] === digits[9];
    },
    chance: 1 / 31,
  },
  {
    shape: /^[A-Z]\d{9}$/,
    letters: ONE,
    isValid: (text) => luhnFromLeft(String(text.charCodeAt(0) - 64).padStart(2, "0") + text.slice(1)),
    chance: 0.1,
  },
  // Known by their pattern alone.
  {
    shape: /^[A-Z]{6}\d{2}[A-EHLMPRST]\d{2}[A-Z]\d{3}[A-Z]$/,
    letters: [9, 9],
    isValid: () => true,
    chance: 1e-4,
  },
  { shape: /^[A-CEGHJ-PR-TW-Z]{2}\d{6}[A-D]$/, letters: [3, 3], isValid: () => true, chance: 0.05 },
  { shape: /^\d{10,11}$/, letters: NONE, isValid: isBirthFirst, chance: 0.03, countedBy: 6 },
];

/**
 * How many of these texts are record or national numbers: as many as follow one published rule, where most of that
 * shape do and that many would not by chance; else 0.
 */
export function countNumbers(texts: readonly string[]): number {
  let most = 0;
  for (const { letters, alike } of byMakeUp(texts).values()) {
    for (const scheme of NUMBER_SCHEMES) {
      if (letters < scheme.letters[0] || letters > scheme.letters[1]) continue;
      if (mayFollow(alike, scheme)) most = Math.max(most, countFollowing(alike, scheme));
    }
  }
  return most;
}

/** Texts with as many digits and letters as one another, so that a rule is tried only on what can follow it. */
function byMakeUp(texts: readonly string[]) {
  const groups = new Map<number, { readonly letters: number; readonly alike: string[] }>();
  let [keyBefore, alikeBefore]: [number, string[]] = [-1, []];
  for (const text of texts) {
    const { digits, letters } = wordShape(text);
    if (digits < FEWEST_DIGITS) continue;
    const key = 100 * digits + letters;
    // Identifiers of one column are alike: the group is looked up where it changes.
    if (key !== keyBefore) {
      const group = groups.get(key) ?? { letters, alike: [] };
      groups.set(key, group);
      [keyBefore, alikeBefore] = [key, group.alike];
    }
    alikeBefore.push(text);
  }
  return groups;
}

/** A look at some, spread evenly: a million local numbers are not held against every rule one by one. */
function mayFollow(texts: readonly string[], { shape, isValid }: NumberScheme): boolean {
  const step = Math.ceil(texts.length / SOME);
  const some = Array.from({ length: Math.ceil(texts.length / step) }, (_, at) => texts[at * step] ?? "");
  const shaped = some.map(compact).filter((text) => shape.test(text));
  return shaped.length > 0 && 2 * shaped.filter(isValid).length >= shaped.length;
}

function countFollowing(texts: readonly string[], scheme: NumberScheme): number {
  const { shape, isValid, chance, countedBy } = scheme;
  const shaped = [...new Set(texts.map(compact))].filter((text) => shape.test(text));
  const valid = shaped.filter(isValid);
  const differing = new Set(valid.map((text) => text.slice(0, countedBy))).size;
  const isRule =
    valid.length >= LEAST_SHARE * shaped.length && differing * Math.log(chance) <= Math.log(MOST_CHANCE);
  return isRule ? valid.length : 0;
}

function compact(text: string): string {
  return text.replace(/[ /-]/g, "").toUpperCase();
}

function digit(text: string, at: number): number {
  return text.charCodeAt(at) - 48;
}

function weighted(text: string, weights: readonly number[]): number {
  // A remainder keeps its sign in this language, and zero is all that is asked for.
  return weights.reduce((sum, weight, at) => sum + weight * digit(text, at), 0);
}

/** Every second digit from the right is doubled, digits of products are added; the sum ends in 0. */
function luhn(text: string): boolean {
  let sum = 0;
  for (let at = text.length - 1, place = 0; at >= 0; at -= 1, place += 1) {
    sum += place % 2 === 1 ? doubled(digit(text, at)) : digit(text, at);
  }
  return sum % 10 === 0;
}

/** The same with weights 1 and 2 from the left, and the last digit as the remainder. */
function luhnFromLeft(text: string): boolean {
  let sum = 0;
  for (let at = 0; at < text.length - 1; at += 1) {
    sum += at % 2 === 1 ? doubled(digit(text, at)) : digit(text, at);
  }
  return sum % 10 === digit(text, text.length - 1);
}

function doubled(value: number): number {
  return value > 4 ? 2 * value - 9 : 2 * value;
}

function modElevenTen(text: string): boolean {
  let product = 10;
  for (let at = 0; at < text.length - 1; at += 1) {
    const sum = (digit(text, at) + product) % 10 || 10;
    product = (2 * sum) % 11;
  }
  return (11 - product) % 10 === digit(text, text.length - 1);
}

/** The last two digits fill the others up to a multiple of 97; those born from 2000 on have a 2 before them. */
function lastTwoOf97(text: string): boolean {
  const [body, check] = [text.slice(0, -2), Number(text.slice(-2))];
  return [body, `2${body}`].some((each) => 97 - (Number(each) % 97) === check);
}

/** Begins with the day, month and two-digit year of a birth before 2000, in either order. */
function isBirthFirst(text: string): boolean {
  const [one, two, three] = [0, 2, 4].map((at) => Number(text.slice(at, at + 2)));
  const isDate = (day = 0, month = 0, year = 0) =>
    day > 0 && day <= 31 && month > 0 && month <= 12 && year >= 25;
  return isDate(one, two, three) || isDate(three, two, one);
}
