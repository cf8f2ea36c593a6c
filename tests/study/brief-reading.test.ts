import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { readingGrade } from "./reading-grade.ts";

const REPORTS = join(import.meta.dirname, "../../reports");

/** The running words of the brief: no table, figure or list of numbers. */
function briefWords(id: string): string {
  const page = readFileSync(join(REPORTS, id, "index.html"), "utf8");
  const brief = page.slice(
    page.indexOf('<section class="brief"'),
    page.indexOf('</section>\n<section id="', page.indexOf('id="words-used"')),
  );
  return brief
    .replace(/<(svg|table|details|figcaption|h\d)[\s\S]*?<\/\1>/g, " ")
    .replace(/<div class="notes">[\s\S]*?<\/div>/g, " ")
    .replace(/<p class="files">[\s\S]*?<\/p>/g, " ")
    .replace(/<\/(p|li|div|section)>/g, "\n")
    .replace(/<[^>]+>/g, "")
    .replace(/&#39;/g, "'")
    .replace(/&amp;/g, "&");
}

describe("readingGrade()", () => {
  it("is the published formula of Kincaid and others 1975", () => {
    // Closed form: 0.39 words a sentence + 11.8 syllables a word − 15.59.
    expect(readingGrade("The cat sat on the mat.")).toBeCloseTo(0.39 * 6 + 11.8 * 1 - 15.59, 9);
    expect(readingGrade("A committee reads. It decides.")).toBeCloseTo(
      0.39 * (5 / 2) + 11.8 * ((1 + 3 + 1 + 1 + 2) / 5) - 15.59,
      9,
    );
  });
});

describe("the brief for a committee", () => {
  it.each(["tourniquet-and-loosening", "what-the-unit-does"])(
    "of %s asks for nine years of school at most",
    (id) => {
      const words = briefWords(id);
      expect(words.split(/\s+/).length).toBeGreaterThan(250);
      expect(readingGrade(words)).toBeLessThanOrEqual(9);
    },
  );
});
