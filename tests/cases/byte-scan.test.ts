import { createHash } from "node:crypto";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type ByteScanOptions, byteScan } from "../../src/cases/byte-scan.ts";
import { writeFile } from "./export-file.ts";

function scan(content: string | Uint8Array, options: ByteScanOptions = {}) {
  return byteScan(writeFile(content), options);
}

/** Code, row and line of every finding kept. */
function faults(content: string | Uint8Array, options: ByteScanOptions = {}) {
  return scan(content, options).findings.groups.flatMap(({ first }) =>
    first.map(({ code, row, line }) => [code, row, line]),
  );
}

describe("byteScan() on sound files", () => {
  it("gives header, records and the first line of each", () => {
    const { header, records, lineOfRow, findings } = scan('a,b\n1,2\n"x\ny",3\n4,5\n');
    expect(header).toEqual(["a", "b"]);
    expect(records).toBe(3);
    expect([...lineOfRow]).toEqual([2, 3, 5]);
    expect(findings.groups).toEqual([]);
  });

  it("counts a last record that no line end follows", () => {
    expect(scan("a,b\n1,2").records).toBe(1);
    expect(scan("a,b\n1,").records).toBe(1);
  });

  it.each([
    ["line feeds", "a,b\n1,2\n3,4\n"],
    ["pairs", "a,b\r\n1,2\r\n3,4\r\n"],
    ["carriage returns", "a,b\r1,2\r3,4\r"],
    ["a mixture", "a,b\r1,2\r\n3,4\n"],
  ])("reads lines that end in %s", (_, text) => {
    const result = scan(text);
    expect(result.records).toBe(2);
    expect([...result.lineOfRow]).toEqual([2, 3]);
    expect(result.findings.groups).toEqual([]);
  });

  it("counts file lines inside quotes, pairs as one", () => {
    const result = scan('a,b\r\n"x\r\ny\rz",1\r\n2,3\r\n');
    expect([...result.lineOfRow]).toEqual([2, 5]);
  });

  it("reads doubled quotes, empty quotes, and other marks when told", () => {
    expect(faults('a,b\n"x""y",""\n"""",""""""\n')).toEqual([]);
    expect(faults("a;b\n'x;y';'it''s'\n", { delimiter: ";", quote: "'" })).toEqual([]);
  });

  it("takes the byte order mark of UTF-8 for no part of the first name", () => {
    expect(scan("\ufeffa,b\n1,2\n").header).toEqual(["a", "b"]);
    expect(scan('\ufeff"a","b"\n1,2\n').header).toEqual(["a", "b"]);
    // Written twice, the second is a part of the name, as a second reader has it.
    expect(scan("\ufeff\ufeffa,b\n1,2\n").header).toEqual(["\ufeffa", "b"]);
  });

  it("reads quoted names with delimiters, quotes and line breaks in them", () => {
    expect(scan('"a,1","b""2","c\n3"\n1,2,3\n').header).toEqual(["a,1", 'b"2', "c\n3"]);
  });

  it("finds the same whatever the size of the chunks", () => {
    const text = 'å,"ü\r\n€"\r\n"𝛼""x",ß\r\n\r\n1,2,3\r\n"open" x,1\r\n';
    const whole = scan(text);
    for (const chunkBytes of [1, 2, 3, 5, 7, 11]) expect(scan(text, { chunkBytes })).toEqual(whole);
    expect(whole.records).toBe(3);
  });

  it("finds the same in chunks with and without quotes, returns and NUL bytes, whatever they hold", () => {
    const bytes = fc.string({
      unit: fc.constantFrom(..."aaa,,,\n\n\n"),
      maxLength: 40,
    });
    const odd = fc.constantFrom('"', "\r", "\r\n", "\u0000", '"x\n,"', '""', "");
    fc.assert(
      fc.property(
        fc.array(fc.tuple(bytes, odd), { maxLength: 5 }),
        fc.integer({ min: 1, max: 9 }),
        (parts, size) => {
          const text = `a,b\n${parts.flat().join("")}`;
          const path = writeFile(text);
          // In one chunk the header is under way, so that every byte goes through the states.
          expect(byteScan(path, { chunkBytes: size })).toEqual(byteScan(path));
        },
      ),
      { seed: 20_241_231, numRuns: 150 },
    );
  });

  it("hashes the bytes of the file as they are", () => {
    const text = "\ufeffa,b\r\n1,2\r\n";
    // twin: Node's own SHA-256 over the whole content
    expect(scan(text, { chunkBytes: 3 }).fileHash).toBe(createHash("sha256").update(text).digest("hex"));
  });

  it("keeps the line of every one of many records", () => {
    const rows = 20_000;
    const { lineOfRow } = scan(`a,b\n${"1,2\n".repeat(rows)}`);
    expect(lineOfRow).toHaveLength(rows);
    expect(lineOfRow[rows - 1]).toBe(rows + 1);
  });
});

describe("byteScan() on faulty files", () => {
  it.each([
    ["an empty file", "", [["file-empty", undefined, undefined]]],
    ["a file of a byte order mark alone", "\ufeff", [["file-empty", undefined, undefined]]],
    ["a header alone", "a,b\n", [["no-records", undefined, undefined]]],
    ["a blank first line", "\na,b\n1,2\n", [["blank-first-line", undefined, 1]]],
    ["a header cut by the wrong delimiter", "a;b\n1;2\n", [["wrong-delimiter", undefined, 1]]],
    ["a name that stands twice", "a,b,a\n1,2,3\n", [["header-repeated", undefined, 1]]],
    ["a column without a name", "a,,c\n1,2,3\n", [["header-blank", undefined, 1]]],
    ["a record with too few fields", "a,b\n1,2\n3\n", [["ragged-record", 2, 3]]],
    ["a file cut off in its last record", "a,b,c\n1,2,3\n3,4", [["record-cut-off", 2, 3]]],
    ["a last record with too many fields and no line end", "a,b\n1,2\n3,4,5", [["ragged-record", 2, 3]]],
    ["a record with too many fields", 'a,b\n"x\ny",2\n3,4,5\n', [["ragged-record", 2, 4]]],
    ["a lone pair of quotes", 'a,b\n""\n', [["ragged-record", 1, 2]]],
    ["a NUL byte", "a,b\n1,2\n3,\u0000\n", [["nul-byte", 2, 3]]],
    ["a NUL byte in quotes", 'a,b\n1,"x\u0000"\n', [["nul-byte", 1, 2]]],
    ["a quote inside a value", 'a,b\n5" nail,2\n', [["quote-inside-value", 1, 2]]],
    ["a space before a quote", 'a,b\n1, "2"\n', [["quote-inside-value", 1, 2]]],
    ["text after a quote", 'a,b\n"1"x,2\n', [["text-after-quote", 1, 2]]],
    ["a quote never closed", 'a,b\n1,2\n3,"4\n5,6\n', [["quote-not-closed", 2, 3]]],
    [
      "a quote never closed on a later line of its record",
      'a,b\n"x\ny","z\n1,2\n',
      [["quote-not-closed", 1, 3]],
    ],
    ["a quote never closed in the header", 'a,"b\n1,2\n', [["quote-not-closed", undefined, 1]]],
  ])("reports %s", (_, text, expected) => {
    expect(faults(text)).toEqual(expected);
  });

  it("reports blank lines with their line and does not count them as records", () => {
    const result = scan("a,b\n\n1,2\n\n\n");
    expect(result.records).toBe(1);
    expect([...result.lineOfRow]).toEqual([3]);
    expect(result.findings).toMatchObject({ errors: 0, warnings: 3 });
    expect(result.findings.groups[0]?.first.map(({ line }) => line)).toEqual([2, 4, 5]);
  });

  it("counts every fault and keeps three examples of each kind", () => {
    const { findings } = scan(`a,b\n${"1\n".repeat(50)}`);
    expect(findings.errors).toBe(50);
    expect(findings.groups[0]?.first).toHaveLength(3);
  });

  it("names the line of the first byte that is not UTF-8", () => {
    const latin = Buffer.from("a,b\r\n1,2\r\n3,\u00e5\r\n", "latin1");
    expect(faults(latin)).toEqual([["encoding-not-utf8", undefined, 3]]);
    for (const chunkBytes of [1, 2, 3, 4, 5, 6, 9]) {
      expect(faults(latin, { chunkBytes })).toEqual([["encoding-not-utf8", undefined, 3]]);
    }
  });

  it.each([
    ["a character cut off by the end of the file", [0xc3]],
    ["an overlong form", [0xc0, 0xaf]],
    ["half of a surrogate pair", [0xed, 0xa0, 0x80]],
    ["a value beyond Unicode", [0xf5, 0x80, 0x80, 0x80]],
    ["a lone continuation byte", [0x80]],
  ])("refuses %s", (_, bytes) => {
    const content = Buffer.concat([Buffer.from("a,b\n1,"), Buffer.from(bytes)]);
    for (const chunkBytes of [1, 7, 1000]) {
      expect(faults(content, { chunkBytes })).toEqual([["encoding-not-utf8", undefined, 2]]);
    }
  });

  it("refuses the five bytes that Windows-1252 does not define", () => {
    for (const byte of [0x81, 0x8d, 0x8f, 0x90, 0x9d]) {
      const content = Buffer.concat([Buffer.from("a,b\n1,2\n3,"), Buffer.from([byte])]);
      expect(faults(content, { encoding: "windows-1252" })).toEqual([["encoding-undefined-byte", 2, 3]]);
    }
    expect(
      faults(Buffer.from([0x61, 0x2c, 0x80, 0x0a, 0x31, 0x2c, 0xe5]), { encoding: "windows-1252" }),
    ).toEqual([]);
  });

  it("gives up on a header that does not end", () => {
    expect(faults(`${"a".repeat(3_000_000)}\n1\n`, { chunkBytes: 100_000 })).toContainEqual([
      "header-too-long",
      undefined,
      1,
    ]);
  });

  it("does not blame the record in which it had to stop", () => {
    const content = Buffer.from('a,b\n1,2\n3,"4\n\u00e5,x', "latin1");
    for (const chunkBytes of [1, 9, 12]) {
      expect(faults(content, { chunkBytes })).toEqual([["encoding-not-utf8", undefined, 4]]);
    }
  });

  it("refuses a file that is not there, and a folder, without naming them", () => {
    expect(() => byteScan("/no/such/file")).toThrow(/^the case file cannot be opened/);
    expect(() => byteScan(import.meta.dirname)).toThrow(
      /^the case file cannot be opened; check the path in the desc/,
    );
  });
});
