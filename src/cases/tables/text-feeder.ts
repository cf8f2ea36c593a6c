import type { CellBytes } from "../cell-bytes.ts";
import type { CellTaker } from "../cell-reader.ts";

/** Hands texts to takers as the UTF-8 bytes of a delimited file would be handed. */
export function textFeeder(): (taker: CellTaker, row: number, text: string) => void {
  let buffer = Buffer.alloc(1 << 10);
  let length = 0;
  let whole = "";
  const cells = (bytes: Buffer): CellBytes => ({
    bytes,
    text: (start, end) => (start === 0 && end === length ? whole : bytes.toString("utf8", start, end)),
  });
  let lent = cells(buffer);
  return (taker, row, text) => {
    // A sign takes at most three bytes for each of its code units.
    if (3 * text.length > buffer.length) {
      buffer = Buffer.alloc(6 * text.length);
      lent = cells(buffer);
    }
    length = buffer.write(text, 0, "utf8");
    whole = text;
    taker.take(row, lent, 0, length);
  };
}
