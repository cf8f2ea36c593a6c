import { describe, expect, it } from "vitest";
import { computed, notComputed } from "../../../src/base/answer.ts";
import { ratioThatMatters } from "../../../src/study/feasibility/ratio-that-matters.ts";
import { FEASIBILITY_RULES, feasibilityRules } from "../../../src/study/feasibility/rules.ts";
import { type Overlap, type Standing, verdict } from "../../../src/study/feasibility/verdict.ts";

/** A question that can be asked; each test spoils one thing. */
const GOOD: Standing = {
  done: 500,
  notDone: 500,
  notApplicable: 0,
  notRecorded: 0,
  events: 200,
  overlaps: [],
  smallest: computed({ ratio: 1.5 }),
  matters: computed({ ratio: 2 }),
};
const judge = (spoilt: Partial<Standing>, rules = FEASIBILITY_RULES) =>
  verdict({ ...GOOD, ...spoilt }, rules);
const overlap = (share: number): Overlap => ({
  within: "operations of 2010–2014",
  levels: "years of operation",
  share,
});
const surgeons = (share: number, surgeonsOnFewerSide = 12) => ({
  surgeonsOnFewerSide,
  withinSurgeons: { within: "surgeons who do both", levels: "surgeons", share },
});

describe("a verdict", () => {
  it("is that a question can be compared where nothing speaks against it", () => {
    expect(judge({})).toEqual({
      within: [],
      kind: "yes",
      code: "can-be-compared",
      words: "can be compared",
      because: "what matters could be seen",
    });
  });

  // Hand-written tables: each rule at its threshold and on both sides of it.
  it.each<[string, Partial<Standing>, string]>([
    ["nothing recorded", { done: 0, notDone: 0, notRecorded: 1000 }, "not-recorded"],
    ["one knee fewer than half recorded", { done: 250, notDone: 249, notRecorded: 500 }, "little-recorded"],
    ["half recorded", { done: 250, notDone: 250, notRecorded: 500 }, "can-be-compared"],
    ["one more than half recorded", { done: 251, notDone: 250, notRecorded: 500 }, "can-be-compared"],
    ["never left out", { notDone: 0 }, "one-group"],
    ["never done", { done: 0 }, "one-group"],
    ["fewer than a tenth in the smaller group", { done: 901, notDone: 99 }, "one-sided"],
    ["a tenth in the smaller group", { done: 900, notDone: 100 }, "can-be-compared"],
    ["more than a tenth in the smaller group", { done: 101, notDone: 899 }, "can-be-compared"],
    ["no events", { events: 0, smallest: notComputed("no-events", "no events") }, "no-events"],
    ["hardly any year with both", { overlaps: [overlap(0.199)] }, "no-overlap"],
    ["a fifth in years with both", { overlaps: [overlap(0.2)] }, "only-within"],
    ["just under nine tenths in years with both", { overlaps: [overlap(0.899)] }, "only-within"],
    ["nine tenths in years with both", { overlaps: [overlap(0.9)] }, "can-be-compared"],
    ["fixed, four surgeons on the fewer side", { fixed: surgeons(0.199, 4) }, "surgeon-alone"],
    ["fixed, five surgeons on the fewer side", { fixed: surgeons(0.199, 5) }, "can-be-compared"],
    ["fixed, a fifth at surgeons who do both", { fixed: surgeons(0.2, 4) }, "only-within"],
    ["fixed, nine tenths at surgeons who do both", { fixed: surgeons(0.9, 4) }, "can-be-compared"],
    ["a risk too low", { matters: notComputed("risk-too-low", "…") }, "risk-too-low"],
    [
      "a ratio of 5.01",
      { smallest: computed({ ratio: 5.01 }), matters: computed({ ratio: 9 }) },
      "too-few-events",
    ],
    [
      "a ratio of 5",
      { smallest: computed({ ratio: 5 }), matters: computed({ ratio: 9 }) },
      "can-be-compared",
    ],
    ["just above the ratio that matters", { smallest: computed({ ratio: 2.001 }) }, "large-difference"],
    ["the ratio that matters", { smallest: computed({ ratio: 2 }) }, "can-be-compared"],
    ["nine tenths to which it applies", { notApplicable: 111 }, "can-be-compared"],
    ["under nine tenths to which it applies", { notApplicable: 112 }, "only-within"],
  ])("with %s is decided by its rule", (_words, spoilt, code) => {
    expect(judge(spoilt).code).toBe(code);
  });

  it("moves with the thresholds that a plan sets", () => {
    const table = { done: 960, notDone: 40 };
    expect(judge(table).kind).toBe("no");
    expect(judge(table, feasibilityRules({ leastShare: 0.04 })).kind).toBe("yes");
    expect(judge(table, feasibilityRules({ leastShare: 0.041 })).kind).toBe("no");
  });

  it("says the worst that is true: what cannot be compared is not called a large difference", () => {
    const missed = { smallest: computed({ ratio: 3 }), overlaps: [overlap(0.5)] };
    expect(judge(missed).kind).toBe("large");
    expect(judge({ ...missed, notDone: 10 }).kind).toBe("no");
  });

  it("names every place it is within, in fixed words", () => {
    const { words } = judge({ notApplicable: 1000, fixed: surgeons(0.5), overlaps: [overlap(0.5)] });
    expect(words).toBe(
      "can be compared only within where it applies, surgeons who do both and operations of 2010–2014",
    );
  });

  it("tells the same of nobody and of few in the smaller group, and prints thresholds, no counts", () => {
    expect(judge({ notDone: 0 }).words).toBe(judge({ notDone: 3 }).words);
    expect(judge({ notDone: 3 }).words).toBe(
      "cannot be compared, because fewer than 10 %, or nobody, are in the smaller group",
    );
    expect(judge({ done: 7, notDone: 7, notRecorded: 500 }).words).toBe(
      "cannot be compared, because it is recorded in fewer than 50 %",
    );
  });
});

describe("ratioThatMatters()", () => {
  it("turns a difference into a ratio of hazards by the risk over all (by hand: 10 per 1000, half exposed, 5 more: 12.5 and 7.5)", () => {
    const answer = ratioThatMatters({ per1000: 5 }, 0.01, 0.5);
    expect(answer.computed && answer.ratio).toBeCloseTo(Math.log(1 - 0.0125) / Math.log(1 - 0.0075), 12);
  });

  it("is the hazards' ratio where risks are large (closed form: e^−0.3 and e^−0.45 left over, a ratio of 1.5)", () => {
    const [lower, higher] = [1 - Math.exp(-0.3), 1 - Math.exp(-0.45)];
    const answer = ratioThatMatters({ per1000: 1000 * (higher - lower) }, (lower + higher) / 2, 0.5);
    expect(answer.computed && answer.ratio).toBeCloseTo(1.5, 12);
  });

  it("takes the smaller ratio of the two directions (by hand, a fifth exposed: 14 over 9, or 11 over 6)", () => {
    const answer = ratioThatMatters({ per1000: 5 }, 0.01, 0.2);
    expect(answer.computed && answer.ratio).toBeCloseTo(Math.log(1 - 0.014) / Math.log(1 - 0.009), 12);
    expect(ratioThatMatters({ per1000: 5 }, 0.01, 0.8)).toEqual(answer);
  });

  it("takes a ratio as it is, whichever way it is written", () => {
    expect(ratioThatMatters({ ratio: 2 }, 0.01, 0.5)).toEqual(computed({ ratio: 2 }));
    expect(ratioThatMatters({ ratio: 0.5 }, 0.01, 0.5)).toEqual(computed({ ratio: 2 }));
  });

  it("has no answer where the whole risk does not hold the difference", () => {
    expect(ratioThatMatters({ per1000: 5 }, 0.0025, 0.5)).toMatchObject({ code: "risk-too-low" });
    expect(ratioThatMatters({ per1000: 5 }, 0.002501, 0.5)).toMatchObject({ computed: true });
    expect(ratioThatMatters({ per1000: 5 }, 0, 0.5)).toMatchObject({ code: "risk-too-low" });
  });
});
