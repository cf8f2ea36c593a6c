import { describe, expect, it } from "vitest";
import { FINDING_CODES, findingSentence } from "../../../src/cases/messages.ts";
import { TABLE_FINDING_CODES } from "../../../src/cases/tables/messages.ts";
import { pageSentence } from "../../../src/study/data-report/page-sentence.ts";

const CODES = [...FINDING_CODES, ...TABLE_FINDING_CODES];

/** Every detail that a sentence asks for, with a number that would be seen. */
function detailsOf(code: string): Record<string, string | number> {
  const details: Record<string, string | number> = {};
  const asked = new Proxy(details, {
    get(target, name) {
      target[String(name)] = 900 + Object.keys(target).length;
      return target[String(name)];
    },
  });
  findingSentence(code, asked, "field");
  return details;
}

const saysOf = (code: string, details: Record<string, string | number>) =>
  pageSentence({ code, field: "field", first: [{ code, severity: "note", details }] });

describe("pageSentence()", () => {
  it("has whole words for every finding although rows and their numbers are kept from it", () => {
    for (const code of CODES) {
      const words = saysOf(code, detailsOf(code));
      expect(words, code).not.toMatch(/undefined|NaN/);
      expect(words, code).not.toContain("\u0000");
      expect(words, code).not.toBe(code);
      expect(words.length, code).toBeGreaterThan(20);
    }
  });

  it("repeats no number of rows and no row, whatever the sentence in the terminal says", () => {
    const counting = ["firstRow", "rows", "values", "present", "never", "dates", "serials", "alone", "below"];
    const more = ["matched", "unmatched", "ambiguous", "conflicting", "withoutKey", "hidden", "records"];
    let met = 0;
    for (const code of CODES) {
      const details = detailsOf(code);
      const words = saysOf(code, details);
      for (const name of [...counting, ...more]) {
        if (details[name] === undefined) continue;
        met += 1;
        expect(words, `${code}: ${name}`).not.toContain(String(details[name]));
      }
      expect(words, code).not.toMatch(/\brow \d/);
    }
    expect(met).toBeGreaterThan(25);
  });

  it("points at another row without saying which, and keeps limits", () => {
    expect(saysOf("sex-conflicts", { firstRow: 17 })).toBe(
      "differs from that of another row, which is of the same patient; check which is right",
    );
    expect(saysOf("value-below-minimum", { limit: 18 })).toContain("lies below the minimum of 18;");
  });
});
