import { describe, expect, it } from "vitest";
import { byteScan } from "../../src/cases/byte-scan.ts";
import { readCells } from "../../src/cases/cell-reader.ts";
import { ExportError } from "../../src/cases/export-error.ts";
import { writeFile } from "./export-file.ts";

/** The cells of every column, read in chunks of so many bytes. */
function cellsOf(content: string, chunkBytes: number, records?: number): string[][] {
  const path = writeFile(content);
  const scan = byteScan(path);
  const columns = scan.header.map((): string[] => []);
  const takers = columns.map((texts, position) => ({
    position,
    take: (row: number, cells: { text(start: number, end: number): string }, start: number, end: number) => {
      texts[row] = cells.text(start, end);
    },
  }));
  readCells(path, { ...scan, records: records ?? scan.records }, takers, {
    delimiter: ",",
    quote: '"',
    encoding: "utf-8",
    chunkBytes,
  });
  return columns;
}

const CONTENT = [
  "\ufeffid,text,last\r\n",
  'K1,"a ""quoted"" word",1\r\n',
  "\r\n",
  'K2,"two\r\nlines, one cell",\r\n',
  'K3,"",""\r\n',
  "a name of more than twelve bytes,blåbærgrød,𝛼\r\n",
  ",,",
].join("");
const CELLS = [
  ["K1", "K2", "K3", "a name of more than twelve bytes", ""],
  ['a "quoted" word', "two\r\nlines, one cell", "", "blåbærgrød", ""],
  ["1", "", "", "𝛼", ""],
];

describe("readCells()", () => {
  it.each([1, 2, 3, 5, 7, 16, 64, 1 << 20])(
    "gives the same cells, whichever of them a chunk of %i bytes cuts in two",
    (chunkBytes) => {
      expect(cellsOf(CONTENT, chunkBytes)).toEqual(CELLS);
    },
  );

  it("hands each cell to the taker of its column, and those of other columns to nobody", () => {
    const path = writeFile("a,b,c\n1,2,3\n4,5,6\n");
    const taken: [number, string][] = [];
    readCells(
      path,
      byteScan(path),
      [
        {
          position: 1,
          take: (row, cells, start, end) => taken.push([row, cells.text(start, end)]),
        },
      ],
      { delimiter: ",", quote: '"', encoding: "utf-8" },
    );
    expect(taken).toEqual([
      [0, "2"],
      [1, "5"],
    ]);
  });

  it("stops where the file no longer has the records that were counted", () => {
    expect(() => cellsOf(CONTENT, 64, 6)).toThrow(ExportError);
    expect(() => cellsOf(CONTENT, 64, 4)).toThrow(ExportError);
  });
});
