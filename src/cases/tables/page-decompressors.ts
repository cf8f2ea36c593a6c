import type { Compressors } from "hyparquet";
import { compressors, decompressZstd } from "hyparquet-compressors";

/** More than any page of a real file, whose usual size is a megabyte. */
export const MOST_PAGE_BYTES = 1 << 27;

/**
 * Decompressors that give a page no more room than its header states, and no page more than any real one has.
 *
 * A damaged header asks for any amount of memory, and one of the library's decompressors asks the packed bytes themselves.
 */
export const pageDecompressors: Compressors = Object.fromEntries(
  Object.entries({
    ...compressors,
    ZSTD: (packed: Uint8Array, bytes: number) => decompressZstd(packed, new Uint8Array(bytes)),
  } satisfies Compressors).map(([codec, decompress]) => [
    codec,
    (packed: Uint8Array, bytes: number) => {
      if (!(bytes >= 0 && bytes <= MOST_PAGE_BYTES)) throw new RangeError("the page is too large");
      return decompress(packed, bytes);
    },
  ]),
);
