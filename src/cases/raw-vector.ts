import type { DuckDBVector } from "@duckdb/node-api";

const BYTES_PER_SLOT = 16;
/** Texts up to this length lie in the vector itself, longer ones elsewhere. */
export const LONGEST_INLINE = 12;
const NOT_ASCII = 0x80808080;

type Numbers = Int32Array | Uint8Array | Float64Array;

/**
 * The numbers of a vector as the reader stores them, without one JavaScript value a cell.
 *
 * The package keeps this array private, so its kind is checked: an upgrade that moves it must fail here.
 */
export function numbersOf<Kind extends Numbers>(
  vector: DuckDBVector,
  kind: abstract new (...args: never[]) => Kind,
): Kind {
  const { items } = vector as unknown as { readonly items?: unknown };
  if (items instanceof kind) return items;
  throw new Error(`the table reader returned no ${kind.name}`);
}

/** The texts of a vector as the reader stores them: 16 bytes each, a length and the text or where it lies. */
export interface TextSlots {
  /** Bytes of the text. */
  length(item: number): number;
  /** Four bytes of a text that lies inline, as a whole number; bytes past its end are zero. */
  part(item: number, index: 0 | 1 | 2): number;
  readonly bytes: Buffer;
}

export function textSlots(vector: DuckDBVector): TextSlots {
  // Private in the package, as above.
  const { dataView } = vector as unknown as { readonly dataView?: unknown };
  if (!(dataView instanceof DataView)) throw new Error("the table reader returned no texts");
  return {
    length: (item) => dataView.getUint32(item * BYTES_PER_SLOT, true),
    part: (item, index) => dataView.getInt32(item * BYTES_PER_SLOT + 4 + 4 * index, true),
    bytes: Buffer.from(dataView.buffer, dataView.byteOffset, dataView.byteLength),
  };
}

/** A text that lies inline. */
export function slotText({ bytes, length }: TextSlots, item: number): string {
  const start = item * BYTES_PER_SLOT + 4;
  return bytes.toString("utf8", start, start + length(item));
}

export function longText(vector: DuckDBVector, item: number): string {
  return String(vector.getItem(item));
}

/** Copies the texts of a vector to `target`, from `offset` on. */
export function copyTexts(vector: DuckDBVector, target: string[], offset: number): void {
  const slots = textSlots(vector);
  // One text for the whole vector, then cut: far cheaper than decoding each cell.
  const block = slots.bytes.toString("latin1");
  for (let item = 0; item < vector.itemCount; item += 1) {
    const length = slots.length(item);
    const start = item * BYTES_PER_SLOT + 4;
    target[offset + item] =
      length <= LONGEST_INLINE && isAscii(slots, item)
        ? block.slice(start, start + length)
        : longText(vector, item);
  }
}

function isAscii(slots: TextSlots, item: number): boolean {
  return ((slots.part(item, 0) | slots.part(item, 1) | slots.part(item, 2)) & NOT_ASCII) === 0;
}
