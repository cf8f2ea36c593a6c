import type { DuckDBVector } from "@duckdb/node-api";

const BYTES_PER_STRING = 16;
/** Strings up to this length lie in the vector itself, longer ones elsewhere. */
const LONGEST_INLINE = 12;
const NOT_ASCII = 0x80808080;

type Numbers = Int32Array | Uint8Array | Float64Array;

/** The numbers of a vector as the reader stores them, without one JavaScript value a cell. */
export function numbersOf<Kind extends Numbers>(
  vector: DuckDBVector,
  kind: abstract new (...args: never[]) => Kind,
): Kind {
  const items = itemsOf(vector);
  if (items instanceof kind) return items;
  throw new Error(`the table reader returned no ${kind.name}`);
}

/** Which entry of its list of words each cell holds. */
export function wordIndexes(vector: DuckDBVector): Uint8Array | Uint16Array | Uint32Array {
  const items = itemsOf(vector);
  if (items instanceof Uint8Array || items instanceof Uint16Array || items instanceof Uint32Array)
    return items;
  throw new Error("the table reader returned no word indexes");
}

/** The package keeps this array private, so callers check the shape: an upgrade that moves it must fail. */
function itemsOf(vector: DuckDBVector): unknown {
  return (vector as unknown as { readonly items?: unknown }).items;
}

/** Copies the texts of a vector to `target`, from `offset` on. */
export function copyTexts(vector: DuckDBVector, target: string[], offset: number): void {
  // Private in the package, as above.
  const { dataView } = vector as unknown as { readonly dataView?: unknown };
  if (!(dataView instanceof DataView))
    throw new Error("the table reader returned no texts where texts were expected");
  const bytes = Buffer.from(dataView.buffer, dataView.byteOffset, dataView.byteLength);
  // One text for the whole vector, then cut: far cheaper than decoding each cell.
  const block = bytes.toString("latin1");
  for (let item = 0; item < vector.itemCount; item += 1) {
    const start = item * BYTES_PER_STRING;
    const length = dataView.getUint32(start, true);
    const isPlain =
      length <= LONGEST_INLINE &&
      ((dataView.getUint32(start + 4, true) |
        dataView.getUint32(start + 8, true) |
        dataView.getUint32(start + 12, true)) &
        NOT_ASCII) ===
        0;
    target[offset + item] = isPlain
      ? block.slice(start + 4, start + 4 + length)
      : String(vector.getItem(item));
  }
}
