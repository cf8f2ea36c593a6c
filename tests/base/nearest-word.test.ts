import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { nearestWord } from "../../src/base/nearest-word.ts";

const STEPS = ["tourniquet", "pressurisation", "drilling", "gloveChange"];

describe("nearestWord()", () => {
  it.each([
    ["a letter left out", "tourniqet", "tourniquet"],
    ["a letter too many", "drillling", "drilling"],
    ["a letter changed", "pressurization", "pressurisation"],
    ["two letters exchanged", "dirlling", "drilling"],
    ["marks and capitals", "Glove_Change", "gloveChange"],
    ["an accent", "drílling", "drilling"],
    ["a beginning", "press", "pressurisation"],
  ])("takes %s for the word that was meant", (_what, written, meant) => {
    expect(nearestWord(written, STEPS)).toBe(meant);
  });

  it("offers nothing where no word is near, or a beginning fits two", () => {
    expect(nearestWord("viscosity", STEPS)).toBeUndefined();
    expect(nearestWord("oa", ["ra", "fx"])).toBeUndefined();
    expect(nearestWord("cement", ["cementCode", "cementTime"])).toBeUndefined();
    expect(nearestWord("", STEPS)).toBeUndefined();
    expect(nearestWord("sex", [])).toBeUndefined();
  });

  it("takes the nearer of two, and of two equally near the first", () => {
    expect(nearestWord("stems", ["stemmed", "stem"])).toBe("stem");
    expect(nearestWord("bat", ["cat", "rat"])).toBe("cat");
  });

  it("counts slips as a table of all beginnings does (twin by recursion)", () => {
    const slips = (a: string, b: string): number => {
      if (a === "" || b === "") return a.length + b.length;
      const [restA, restB] = [a.slice(1), b.slice(1)];
      const exchanged = a.length > 1 && b.length > 1 && a[0] === b[1] && a[1] === b[0];
      return Math.min(
        slips(restA, b) + 1,
        slips(a, restB) + 1,
        slips(restA, restB) + (a[0] === b[0] ? 0 : 1),
        exchanged ? slips(a.slice(2), b.slice(2)) + 1 : Number.POSITIVE_INFINITY,
      );
    };
    const word = fc.string({ unit: fc.constantFrom("a", "b", "c"), minLength: 3, maxLength: 6 });
    fc.assert(
      fc.property(word, word, (written, known) => {
        const isNear = slips(written, known) <= Math.floor(Math.min(written.length, known.length) / 3);
        const isBeginning =
          Math.min(written.length, known.length) >= 4 &&
          (written.startsWith(known) || known.startsWith(written));
        expect(nearestWord(written, [known])).toBe(isNear || isBeginning ? known : undefined);
      }),
      { numRuns: 200 },
    );
  });
});
