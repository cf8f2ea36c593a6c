import { describe, expect, it } from "vitest";
import type { ClearedCell } from "../../src/disclosure/cleared.ts";
import type { StudyFacts } from "../../src/study/facts.ts";
import { differenceSentence } from "../../src/study/sections/difference-sentence.ts";

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
    : prose.map((run) => (typeof run === "string" ? run : run.strong)).join("");
};

describe("differenceSentence()", () => {
  it("gives the estimate and both ends, each with its direction", () => {
    expect(sentence([-2.4, -6.3, 1.4])).toBe(
      "At 10 years: 2.4 fewer per 1,000 knees with “with” than with “without” (95 % interval: 6.3 fewer to 1.4 more, allowing for the surgeons' own habits).",
    );
  });

  it("gives only the ends where whole steps would print no difference", () => {
    expect(sentence([0, -10, 10], { coarse: 10 })).toMatch(
      /between 10 fewer and 10 more per 1,000 knees .*in steps of 10/,
    );
    expect(sentence([0, -10, 10], { coarse: 10 })).not.toMatch(/hardly|no difference/);
  });

  it("gives the estimate first where whole steps leave one", () => {
    expect(sentence([-10, -20, 0], { coarse: 10 })).toMatch(
      /^At 10 years: about 10 fewer per 1,000 knees, between 20 fewer and no difference with/,
    );
  });

  it("says why there is none", () => {
    expect(sentence([], { text: "hidden", hidden: true })).toBe(
      "At 10 years: no difference can be given (hidden).",
    );
  });
});
