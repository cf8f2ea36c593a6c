import { ArgumentError } from "../base/errors.ts";

/** Codes that an array can be indexed by. */
export interface DenseCodes {
  readonly codes: Int32Array;
  /** One more than the largest code; codes in between may be unused. */
  readonly size: number;
}

const MOST = 2_147_483_646;
/** Codes may be this many times as many as the rows before they are renumbered. */
const SPARE = 4;

/**
 * Codes small enough to index an array by, renumbered in the order met only where they are far apart.
 *
 * @throws ArgumentError where a code is not a whole number from 0 up.
 */
export function denseCodes(where: string, codes: ArrayLike<number>): DenseCodes {
  const copy = new Int32Array(codes.length);
  let largest = -1;
  for (let at = 0; at < copy.length; at += 1) {
    const code = codes[at];
    if (code === undefined || !(code >= 0 && code <= MOST) || code !== Math.floor(code)) {
      throw new ArgumentError(`${where}: row ${at + 1}: codes must be whole numbers from 0 to ${MOST}`);
    }
    copy[at] = code;
    if (code > largest) largest = code;
  }
  return largest < SPARE * (copy.length + 1) ? { codes: copy, size: largest + 1 } : renumbered(copy);
}

function renumbered(codes: Int32Array): DenseCodes {
  const numberOf = new Map<number, number>();
  for (let at = 0; at < codes.length; at += 1) {
    // In range: at runs over the array.
    const code = codes[at]!;
    const number = numberOf.get(code) ?? numberOf.size;
    if (number === numberOf.size) numberOf.set(code, number);
    codes[at] = number;
  }
  return { codes, size: numberOf.size };
}
