import { describe, expect, it } from "vitest";
import { TECHNIQUE_STEPS } from "../../../src/cases/roles.ts";
import type { StudyFacts } from "../../../src/study/facts.ts";
import type { ClearedView } from "../../../src/study/making/view.ts";
import { published } from "../../../src/study/sections/published.ts";
import { SOURCES } from "../../../src/technique/sources.ts";
import { stepCatalogue } from "../../../src/technique/step-catalogue.ts";

/** The section looks at nothing but the exposure. */
const blocksOf = (exposure: unknown) =>
  published.blocks({} as ClearedView, { plan: { exposure } } as StudyFacts, new Map());

describe("the section on what others have found", () => {
  it.each(TECHNIQUE_STEPS)(
    "gives every fact on %s its source, every habit the note that it has none",
    (step) => {
      const text = JSON.stringify(blocksOf({ step }));
      const { facts, commonPractice, definition, caution } = stepCatalogue[step];
      for (const { says, source } of facts)
        expect(text).toContain(JSON.stringify(`${says} (${SOURCES[source]})`));
      for (const habit of commonPractice) expect(habit).toContain("common practice, no source");
      expect(text).toContain(definition);
      expect(text).toContain(caution);
      expect(text.includes("look it up before quoting it")).toBe(facts.length > 0);
      expect(text).toContain("no advice");
    },
  );

  it("is not there where the groups are of no step", () => {
    expect(blocksOf({ field: "sex", groups: ["F", "M"] })).toEqual([]);
  });
});
