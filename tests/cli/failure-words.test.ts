import { describe, expect, it } from "vitest";
import { ArgumentError, UsageError } from "../../src/base/errors.ts";
import { failureWords } from "../../src/cli/failure-words.ts";

const fromDisk = (code: string, path?: string) =>
  Object.assign(new Error(`${code}: raw`), {
    code,
    syscall: "open",
    ...(path === undefined ? {} : { path }),
  });

describe("failureWords()", () => {
  it("hands on what was written for the person at the keyboard", () => {
    expect(failureWords(new UsageError("x", "the plan"), false)).toBe("the plan");
    expect(failureWords(new ArgumentError("kaplanMeier: level"), false)).toBe("kaplanMeier: level");
  });

  it.each([
    ["EACCES", /^out\/a: may not be .* name another place$/],
    ["ENOSPC", /^out\/a: .* disk is full; make room/],
    ["EROFS", /^out\/a: .* cannot be written to; name another place$/],
    ["ENOENT", /^out\/a: is not there; check the path$/],
    ["ENOTDIR", /^out\/a: .* is a file and no folder; check the path$/],
  ])("says where, what and what to do for %s", (code, words) => {
    expect(failureWords(fromDisk(code, "out/a"), false)).toMatch(words);
    expect(failureWords(fromDisk(code), false)).toMatch(/^a file: /);
  });

  it("owns up to a fault, and shows its trace only where asked", () => {
    const fault = new TypeError("x is no function");
    expect(failureWords(fault, false)).toBe(
      "This is a fault in Mantle: x is no function\nTo see where it happened, run it again with MANTLE_TRACE=1 set.",
    );
    expect(failureWords(fault, true)).toMatch(
      /^This is a fault in Mantle: x is no function\nTypeError.*\n\s+at /,
    );
    expect(failureWords("thrown text", false)).toMatch(/^This is a fault in Mantle: thrown text/);
    // A code of the engine's own is no word of the file system.
    expect(failureWords(Object.assign(new Error("bad"), { code: "ERR_X" }), false)).toMatch(
      /fault in Mantle/,
    );
  });
});
