import type { AsyncBuffer, ColumnMetaData, PageHeader } from "hyparquet";
import { parquetHeader } from "hyparquet/src/column.js";
import { decompressPage } from "hyparquet/src/datapage.js";
import { MOST_PAGE_BYTES, pageDecompressors } from "./page-decompressors.ts";
import { hasSoundLevels, hasSoundRuns } from "./sound-runs.ts";

/** A flat column in the rows of one group. */
export interface ColumnPages {
  readonly about: ColumnMetaData;
  readonly rows: number;
  /** Levels tell which rows hold a value. */
  readonly optional: boolean;
}

/**
 * Whether the pages of a column hold what the directory of the file says: as many values as rows, within their bytes.
 *
 * The library makes room for whatever number a page or a run claims; a damaged one would end the process.
 */
export async function hasSoundPages(file: AsyncBuffer, column: ColumnPages): Promise<boolean> {
  const { about, rows } = column;
  if (about.num_values !== BigInt(rows)) return false;
  // As the library has it: a dictionary comes before the data.
  const from = Number(about.dictionary_page_offset || about.data_page_offset);
  const bytes = Number(about.total_compressed_size);
  if (!(from >= 0 && bytes > 0 && from + bytes <= file.byteLength)) return false;
  const buffer = await file.slice(from, from + bytes);
  const reader = { view: new DataView(buffer), offset: 0 };
  let values = 0;
  while (values < rows) {
    if (reader.offset >= bytes) return false;
    const header = parquetHeader(reader);
    const { compressed_page_size: packed, uncompressed_page_size: whole } = header;
    const begin = reader.offset;
    reader.offset += packed;
    if (!(packed >= 0 && reader.offset <= bytes && whole >= 0 && whole <= MOST_PAGE_BYTES)) return false;
    const words = header.dictionary_page_header?.num_values ?? 0;
    const own = (header.data_page_header ?? header.data_page_header_v2)?.num_values ?? 0;
    // A dictionary may hold one word that stands for none.
    if (!(words >= 0 && words <= rows + 1 && own >= 0 && own <= rows - values)) return false;
    if (!hasSoundValues(new Uint8Array(buffer, begin, packed), header, own, column)) return false;
    values += own;
  }
  return true;
}

function hasSoundValues(
  packed: Uint8Array,
  { data_page_header: first, data_page_header_v2: second, uncompressed_page_size }: PageHeader,
  values: number,
  { about: { codec }, optional }: ColumnPages,
): boolean {
  if (first !== undefined) {
    const page = decompressPage(packed, uncompressed_page_size, codec, pageDecompressors);
    return hasSoundRuns(page, values, {
      levels: optional ? "with length" : "none",
      words: isOfWords(first.encoding),
    });
  }
  if (second === undefined) return true;
  const levels = second.repetition_levels_byte_length + second.definition_levels_byte_length;
  if (!(levels >= 0 && levels <= packed.length)) return false;
  if (!hasSoundLevels(packed.subarray(second.repetition_levels_byte_length, levels), values)) return false;
  const body = packed.subarray(levels);
  const page = second.is_compressed
    ? decompressPage(body, uncompressed_page_size - levels, codec, pageDecompressors)
    : body;
  return hasSoundRuns(page, values, { levels: "none", words: isOfWords(second.encoding) });
}

function isOfWords(encoding: string): boolean {
  return encoding === "PLAIN_DICTIONARY" || encoding === "RLE_DICTIONARY";
}
