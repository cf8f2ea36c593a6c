import { firstBytes } from "../decoded-file.ts";
import type { TableFormat } from "../descriptor.ts";

/** What a file is by its first bytes; names and endings are not asked. */
export type FileKind = TableFormat | "old-workbook";

/** Text of any sort counts as "csv": whether it is a table shows when it is scanned. */
export function fileKind(path: string): FileKind {
  const start = Buffer.from(firstBytes(path));
  const begins = (hexadecimal: string) => start.toString("hex").startsWith(hexadecimal);
  if (begins("50415231")) return "parquet";
  // A zip archive.
  if (begins("504b0304")) return "xlsx";
  // The container of older workbooks, and of those with a password.
  if (begins("d0cf11e0")) return "old-workbook";
  return "csv";
}
