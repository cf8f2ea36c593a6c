import { type CellParser, digitAt } from "./value-cell.ts";

/** With so few digits the digits as a whole number, and the power of ten below it, are exact: so is their ratio. */
const MOST_EXACT_DIGITS = 15;
const POWERS_OF_TEN = Float64Array.from({ length: MOST_EXACT_DIGITS + 1 }, (_, power) =>
  Number(`1e${power}`),
);
const MINUS = 0x2d;

/**
 * Plain decimal numbers: no exponent, no mark between thousands, no sign of currency, digits on both sides of the mark.
 *
 * Whole numbers are refused above the size from which neighbours become one: such a column holds names, not amounts.
 */
export function numberParser({
  decimalChar,
  whole,
}: {
  readonly decimalChar: string;
  readonly whole: boolean;
}): CellParser {
  const mark = decimalChar.charCodeAt(0);
  return (bytes, start, end) => {
    const isNegative = bytes[start] === MINUS;
    const first = isNegative ? start + 1 : start;
    let digits = 0;
    let markAt = -1;
    let amount = 0;
    for (let at = first; at < end; at += 1) {
      const digit = digitAt(bytes, at);
      if (digit >= 0) {
        amount = 10 * amount + digit;
        digits += 1;
      } else if (!whole && bytes[at] === mark && markAt < 0 && at > first) markAt = at;
      else return undefined;
    }
    if (digits === 0 || markAt === end - 1) return undefined;
    const fraction = markAt < 0 ? 0 : end - 1 - markAt;
    const size =
      digits <= MOST_EXACT_DIGITS ? amount / POWERS_OF_TEN[fraction]! : longNumber(bytes, first, end, mark);
    if (whole ? size > Number.MAX_SAFE_INTEGER : !Number.isFinite(size)) return undefined;
    return isNegative && size > 0 ? -size : size;
  };
}

function longNumber(bytes: Uint8Array, start: number, end: number, mark: number): number {
  const text = String.fromCharCode(...bytes.subarray(start, end));
  return Number(text.replace(String.fromCharCode(mark), "."));
}
