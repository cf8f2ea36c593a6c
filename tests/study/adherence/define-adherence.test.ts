import { describe, expect, it } from "vitest";
import { defineAdherence } from "../../../src/study/adherence/define-adherence.ts";
import type { AdherencePlan } from "../../../src/study/adherence/plan.ts";
import { planFromOptions } from "../../../src/study/adherence/plan-from-options.ts";

const PLAN: AdherencePlan = {
  id: "what-we-do",
  title: "What we do",
  question: "Do we?",
  export: "datapackage.json",
  eligibility: [],
  standards: [{ step: "pulsedLavage", percentAtLeast: 95, reason: "agreed" }],
};
/** A plan as JavaScript may write it. */
const wrong = (part: Record<string, unknown>) => () => defineAdherence({ ...PLAN, ...part } as AdherencePlan);

describe("defineAdherence()", () => {
  it("takes a plan as it is", () => {
    expect(defineAdherence(PLAN)).toEqual({ kind: "adherence", plan: PLAN });
  });

  it.each<[string, Record<string, unknown>, RegExp]>([
    [
      "a step that is none",
      { steps: ["lavage"] },
      /steps\[0\]: must be one of those listed below, not "lavage"(.|\n)*"pulsedLavage"/,
    ],
    [
      "a share for per cent",
      { standards: [{ step: "pulsedLavage", share: 0.9, reason: "x" }] },
      /percentAtLeast/,
    ],
    [
      "more than all",
      { standards: [{ step: "pulsedLavage", percentAtLeast: 120, reason: "x" }] },
      /standards\[0\]\.percentAtLeast: must be per cent, from 0 to 100/,
    ],
    [
      "no standard",
      { standards: [{ step: "pulsedLavage", percentAtLeast: 0, reason: "x" }] },
      /at least 0 % is no standard/,
    ],
    [
      "no limit",
      { standards: [{ step: "tourniquet", percentAtMost: 100, reason: "x" }] },
      /at most 100 % is no standard/,
    ],
    ["a field twice", { strata: ["role:sclerosis", "role:sclerosis"] }, /strata: must name each field once/],
    [
      "two standards for a step",
      { standards: [PLAN.standards[0], PLAN.standards[0]] },
      /standards: must set one standard for a step/,
    ],
    [
      "a standard for a step left out",
      { steps: ["drilling"] },
      /standards: names "pulsedLavage", which "steps" leaves out/,
    ],
    ["one step together", { together: ["drilling"] }, /together: must list at least 2/],
    ["no such day", { change: { on: "2020-02-30", what: "x" } }, /change\.on: must be a date such as/],
    [
      "an unknown word",
      { standard: [] },
      /standard: "standard" is nothing that a plan says here; did you mean "standards"/,
    ],
  ])("refuses %s", (_, part, words) => {
    expect(wrong(part)).toThrow(words);
  });
});

describe("planFromOptions()", () => {
  const asked = { id: "a", export: "datapackage.json", title: "An export", strata: [] };

  it("makes standards of words", () => {
    const plan = planFromOptions({ ...asked, atLeast: ["pulsedLavage=90"], atMost: ["tourniquet=12.5"] });
    expect(plan.standards).toMatchObject([
      { step: "pulsedLavage", percentAtLeast: 90 },
      { step: "tourniquet", percentAtMost: 12.5 },
    ]);
    expect(defineAdherence(plan).kind).toBe("adherence");
  });

  it.each([
    "lavage=90",
    "pulsedLavage",
    "pulsedLavage=",
    "pulsedLavage=101",
    "pulsedLavage=90=5",
    "pulsedLavage=-1",
    "pulsedLavage=90%",
  ])("refuses %s with what it takes", (text) => {
    expect(() => planFromOptions({ ...asked, atLeast: [text], atMost: [] })).toThrow(
      /--at-least: .* such as pulsedLavage=90; the steps are tourniquet, /,
    );
  });

  it("offers the step that was meant, and names the option of a day that is none", () => {
    expect(() => planFromOptions({ ...asked, atLeast: ["pulsdLavage=90"], atMost: [] })).toThrow(
      /--at-least: .*did you mean pulsedLavage\?/,
    );
    expect(() => planFromOptions({ ...asked, atLeast: [], atMost: [], change: "2020-02-30" })).toThrow(
      /--change: "2020-02-30" is not a date; write it as/,
    );
  });
});
