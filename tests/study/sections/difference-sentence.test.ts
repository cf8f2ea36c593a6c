import { describe, expect, it } from "vitest";
import type { ClearedCell } from "../../../src/disclosure/cleared.ts";
import type { StudyFacts } from "../../../src/study/facts.ts";
import { differenceSentence } from "../../../src/study/sections/difference-sentence.ts";

// Only what the sentence reads.
const facts = {
  level: 0.95,
  clusters: { by: "surgeon" },
  words: { unit: { one: "knee", many: "knees" }, person: { one: "patient", many: "patients" } },
} as StudyFacts;

const sentence = (values: readonly number[], extra: Partial<ClearedCell> = {}) => {
  const cell: ClearedCell = { text: "", values, hidden: false, ...extra };
  const prose = differenceSentence(cell, facts, ["with", "without"], 10);
  return typeof prose === "string"
    ? prose
    : prose.map((run) => (typeof run === "string" ? run : "strong" in run ? run.strong : run.words)).join("");
};

describe("differenceSentence()", () => {
  it("gives the estimate and both ends, each with its direction", () => {
    expect(sentence([-2.4, -6.3, 1.4])).toBe(
      "At 10 years: 2.4 fewer per 1000 knees with “with” than with “without” (95 % interval: 6.3 fewer to 1.4 more, allowing for the surgeons' own habits).",
    );
  });

  it("gives only the ends of a range that holds the interval where numbers stand in whole steps", () => {
    for (const middle of [0, -10]) {
      const text = sentence([middle, -20, 10], { coarse: 10 });
      expect(text).toMatch(
        /^At 10 years: between 20 fewer and 10 more per 1000 knees with .*a range that holds the 95 % interval.*steps of 10/,
      );
      expect(text).not.toMatch(/about|no difference/);
    }
  });

  it("says why there is none", () => {
    expect(sentence([], { text: "hidden", hidden: true })).toBe(
      "At 10 years: no difference can be given (hidden).",
    );
  });
});
