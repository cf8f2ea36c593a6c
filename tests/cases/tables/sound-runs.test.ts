import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { readCases } from "../../../src/cases/read-cases.ts";
import { hasSoundLevels, hasSoundRuns } from "../../../src/cases/tables/sound-runs.ts";
import { baseFiles, describe as describeFile } from "../fuzz/base-files.ts";
import { mutated } from "../fuzz/mutation.ts";

/** A run of one value: twice its number, seven bits a byte, then the value. Format: Apache Parquet, "Encodings". */
function run(count: number, value: number): number[] {
  const bytes: number[] = [];
  for (let left = 2 * count; left > 0 || bytes.length === 0; left = Math.floor(left / 128))
    bytes.push(left % 128);
  return [...bytes.map((byte, at) => (at < bytes.length - 1 ? byte | 0x80 : byte)), value];
}

describe("hasSoundRuns()", () => {
  const words = { levels: "none", words: true } as const;

  it("passes runs that fit the page, padded bits, and what no run is in", () => {
    expect(hasSoundRuns(Uint8Array.from([2, ...run(300, 1)]), 300, words)).toBe(true);
    expect(hasSoundRuns(Uint8Array.from([1, ...run(3, 1), 0b11, 0b10101]), 9, words)).toBe(true);
    expect(hasSoundRuns(Uint8Array.from([0]), 9, words)).toBe(true);
    expect(hasSoundRuns(Uint8Array.from([9, 9]), 9, { levels: "none", words: false })).toBe(true);
    const levels = run(4, 1);
    const page = [levels.length, 0, 0, 0, ...levels, 1, ...run(4, 0)];
    expect(hasSoundRuns(Uint8Array.from(page), 4, { levels: "with length", words: true })).toBe(true);
    expect(hasSoundLevels(Uint8Array.from(levels), 4)).toBe(true);
  });

  it("finds a run of more values than the page has, in its words and in its levels", () => {
    expect(hasSoundRuns(Uint8Array.from([2, ...run(301, 1)]), 300, words)).toBe(false);
    expect(hasSoundRuns(Uint8Array.from([2, ...run(100_000_000, 1)]), 300, words)).toBe(false);
    const levels = run(5, 1);
    expect(hasSoundLevels(Uint8Array.from(levels), 4)).toBe(false);
    const page = [levels.length, 0, 0, 0, ...levels];
    expect(hasSoundRuns(Uint8Array.from(page), 4, { levels: "with length", words: false })).toBe(false);
    expect(hasSoundRuns(Uint8Array.from([200, 0, 0, 0]), 4, { levels: "with length", words: false })).toBe(
      false,
    );
  });
});

describe("a damaged Parquet file", () => {
  it("is refused where a run claims so many values that memory would end", async () => {
    const base = (await baseFiles()).find(({ label }) => label === "Parquet, zstd");
    if (base === undefined) throw new Error("a file was expected");
    const folder = mkdtempSync(join(tmpdir(), "runs-"));
    onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
    const path = join(folder, "datapackage.json");
    writeFileSync(path, JSON.stringify(describeFile(base)));
    writeFileSync(join(folder, "cases.csv"), base.bytes);
    expect((await readCases(path)).rows).toBeGreaterThan(0);
    // Found by the run over damaged files: the process was ended by it.
    const damaged = mutated(base.bytes, { kind: "swap", place: 0.2301, length: 4, byte: 24 });
    writeFileSync(join(folder, "cases.csv"), damaged);
    await expect(readCases(path)).rejects.toThrow("the Parquet file cannot be read");
  });
});
