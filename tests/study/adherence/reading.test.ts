import { describe, expect, it } from "vitest";
import { computed, notComputed } from "../../../src/base/answer.ts";
import type { Standard } from "../../../src/study/adherence/plan.ts";
import { type Reading, reading, standardWords } from "../../../src/study/adherence/reading.ts";
import { proportionInterval } from "../../../src/summaries/proportion-interval.ts";

const atLeast = (percent: number): Standard => ({
  step: "pulsedLavage",
  reason: "agreed",
  percentAtLeast: percent,
});
const atMost = (percent: number): Standard => ({
  step: "tourniquet",
  reason: "agreed",
  percentAtMost: percent,
});

/** Wilson's 95 % limits, written here once more. */
function wilson(count: number, total: number): readonly [number, number] {
  const z = 1.959963984540054;
  const middle = count + (z * z) / 2;
  const reach = z * Math.sqrt((count * (total - count)) / total + (z * z) / 4);
  return [(middle - reach) / (total + z * z), (middle + reach) / (total + z * z)];
}

/** Done, not done, not recorded. */
const shares = (done: number, notDone: number, open: number) => {
  const total = done + notDone + open;
  return {
    recorded: done + notDone,
    share: proportionInterval({ count: done, total: done + notDone }),
    bounds: computed({ low: wilson(done, total)[0], high: wilson(done + open, total)[1] }),
  };
};

describe("reading()", () => {
  // By hand: Wilson's 95 % limits of 950 of 1000 are 0.9347 and 0.9619, of 50 of 1000 their mirror.
  it.each<[string, Parameters<typeof shares>, Standard, Reading]>([
    ["the whole interval above, all of it written down", [950, 50, 0], atLeast(93), "reached"],
    [
      "the whole interval above, the unwritten would drop it below",
      [950, 50, 30],
      atLeast(93),
      "reachedIfWritten",
    ],
    ["the interval holds the standard", [950, 50, 0], atLeast(95), "chance"],
    ["the whole interval below", [950, 50, 0], atLeast(97), "missed"],
    ["the whole interval below, the unwritten would lift it", [950, 50, 800], atLeast(97), "missedIfWritten"],
    ["what should be rare is rare", [50, 950, 0], atMost(7), "reached"],
    ["what should be rare is rare where written down", [50, 950, 30], atMost(7), "reachedIfWritten"],
    ["what should be rare may be", [50, 950, 0], atMost(5), "chance"],
    ["what should be rare is not", [50, 950, 0], atMost(3), "missed"],
    ["what should be rare is not where written down", [50, 950, 800], atMost(3), "missedIfWritten"],
    ["few", [19, 0, 0], atLeast(10), "few"],
    ["enough", [20, 0, 0], atLeast(10), "reached"],
    ["all done is never shown to be always", [1000, 0, 0], atLeast(100), "chance"],
    ["one left out is not always", [999, 1, 0], atLeast(100), "missed"],
    ["never done is never shown to be never", [0, 1000, 0], atMost(0), "chance"],
  ])("%s", (_, counts, standard, expected) => {
    expect(reading(shares(...counts), standard, 20)).toBe(expected);
  });

  it("treats doing and leaving out as mirrors of each other", () => {
    const kinds = new Set<Reading>();
    for (const done of [0, 40, 70, 90, 99, 100]) {
      for (const open of [0, 10, 60]) {
        for (const percent of [5, 50, 80, 95]) {
          const one = reading(shares(done, 100 - done, open), atLeast(percent), 20);
          const other = reading(shares(100 - done, done, open), atMost(100 - percent), 20);
          expect(other).toBe(one);
          kinds.add(one);
        }
      }
    }
    expect(kinds.size).toBe(5);
  });

  it("says nothing where the step applies nowhere", () => {
    const nowhere = {
      recorded: 0,
      share: notComputed("no-cases", "no cases"),
      bounds: notComputed("no-cases", "the step applies nowhere"),
    };
    expect(reading(nowhere, atLeast(90), 20)).toBe("few");
  });
});

describe("standardWords()", () => {
  it("says which way", () => {
    expect(standardWords(atLeast(95))).toBe("at least 95 %");
    expect(standardWords(atMost(2.5))).toBe("at most 2.5 %");
  });
});
