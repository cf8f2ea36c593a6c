import { describe, expect, it } from "vitest";
import { canonicalJson, contentHash } from "../../src/base/content-hash.ts";

describe("contentHash()", () => {
  it("is SHA-256", () => {
    // published: FIPS 180-2, appendix B.1, the message "abc"
    expect(contentHash("abc")).toBe("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  });
});

describe("canonicalJson()", () => {
  it("does not depend on the order in which keys were written, at any depth", () => {
    expect(canonicalJson({ b: [{ d: 1, c: 2 }], a: null })).toBe('{"a":null,"b":[{"c":2,"d":1}]}');
  });

  it("keeps the order of lists", () => {
    expect(canonicalJson([3, 1, 2])).toBe("[3,1,2]");
  });
});
