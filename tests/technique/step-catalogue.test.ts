import { describe, expect, it } from "vitest";
import { TECHNIQUE_STEPS } from "../../src/cases/roles.ts";
import { SOURCES } from "../../src/technique/sources.ts";
import { stepCatalogue } from "../../src/technique/step-catalogue.ts";

const entries = Object.entries(stepCatalogue);

describe("stepCatalogue", () => {
  it("holds every step that an export can record, and no other", () => {
    expect(Object.keys(stepCatalogue).sort()).toEqual([...TECHNIQUE_STEPS].sort());
  });

  it.each(entries)("defines %s in one sentence", (_step, entry) => {
    expect(entry.definition).toMatch(/^[A-Z][^.]*\.$/);
    expect(entry.caution).toMatch(/\.$/);
    expect(entry.strength.length).toBeGreaterThan(0);
  });

  it.each(entries)("names a source for every fact on %s, and says so where there is none", (_step, entry) => {
    for (const { says, source } of entry.facts) {
      expect(says).toMatch(/\.$/);
      expect(Object.hasOwn(SOURCES, source)).toBe(true);
    }
    for (const practice of entry.commonPractice) expect(practice).toContain("(common practice, no source)");
    expect(entry.strength.includes("none found")).toBe(entry.facts.length === 0);
  });

  it("uses every source, and each once only in the list", () => {
    const used = new Set(entries.flatMap(([, entry]) => entry.facts.map(({ source }) => source as string)));
    expect(Object.keys(SOURCES).filter((key) => !used.has(key))).toEqual([]);
    expect(new Set(Object.values(SOURCES)).size).toBe(Object.keys(SOURCES).length);
  });

  it("gives no advice", () => {
    expect(JSON.stringify(stepCatalogue)).not.toMatch(
      /\b(should|must|recommend\w*|advise\w*|ought|always use)\b/i,
    );
  });
});
