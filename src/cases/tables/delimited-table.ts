import { byteScan } from "../byte-scan.ts";
import { readCells } from "../cell-reader.ts";
import { decodedFile } from "../decoded-file.ts";
import type { StatedEncoding } from "../text-encoding.ts";
import type { TableSource } from "./table-source.ts";

export interface Dialect {
  readonly delimiter: string;
  readonly quote: string;
  readonly encoding: StatedEncoding;
}

/** A text file with one record a line and a mark between cells, packed or not. */
export function delimitedTable(path: string, { delimiter, quote, encoding: stated }: Dialect): TableSource {
  const { input, encoding, fileHash } = decodedFile(path, stated);
  const scan = byteScan(input, { delimiter, quote, encoding });
  return {
    ...scan,
    fileHash: fileHash ?? scan.fileHash,
    encoding,
    readCells: (takers) => readCells(input, scan, takers, { delimiter, quote, encoding }),
  };
}
