import { describe, expect, it } from "vitest";
import { randomStreams } from "../../src/base/random-streams.ts";
import { yearsToDeath } from "../../src/synthetic/death-time.ts";
import { PLANTED_TRUTH } from "../../src/synthetic/planted-truth.ts";
import {
  exponentialDraws,
  normalDraws,
  placeAt,
  runningShares,
  streamsUsedOnce,
} from "../../src/synthetic/random-draws.ts";
import { meanEffect } from "../../src/synthetic/revision-times.ts";

describe("normalDraws() and exponentialDraws()", () => {
  const draws = 40_000;
  const moments = (next: () => number, centre: number) => {
    let [first, second, fourth] = [0, 0, 0];
    for (let draw = 0; draw < draws; draw++) {
      const value = next();
      first += value / draws;
      second += (value - centre) ** 2 / draws;
      fourth += (value - centre) ** 4 / draws;
    }
    return { first, second, fourth };
  };

  // Closed form: moments 0, 1, 3 of the normal; standard errors 1/√n, √(2/n), √(96/n).
  it("have the moments of a standard normal", () => {
    const { first, second, fourth } = moments(normalDraws(randomStreams(1).stream("normal")), 0);
    expect(Math.abs(first)).toBeLessThan(3 / Math.sqrt(draws));
    expect(Math.abs(second - 1)).toBeLessThan(3 * Math.sqrt(2 / draws));
    expect(Math.abs(fourth - 3)).toBeLessThan(3 * Math.sqrt(96 / draws));
  });

  // Closed form: mean 1, variance 1, whose standard error is √(8/n).
  it("have the moments of a standard exponential", () => {
    const { first, second } = moments(exponentialDraws(randomStreams(1).stream("exponential")), 1);
    expect(Math.abs(first - 1)).toBeLessThan(3 / Math.sqrt(draws));
    expect(Math.abs(second - 1)).toBeLessThan(3 * Math.sqrt(8 / draws));
  });
});

describe("streamsUsedOnce()", () => {
  it("gives the named streams of the seed, each once", () => {
    const streams = streamsUsedOnce(9);
    expect(streams.stream("a").uniform()).toBe(randomStreams(9).stream("a").uniform());
    streams.stream("b");
    expect(() => streams.stream("a")).toThrow(/already in use/);
  });
});

describe("placeAt()", () => {
  it("finds the first place whose running share exceeds the number, at every edge", () => {
    const limits = runningShares([1, 0, 2, 1]);
    expect([...limits]).toEqual([0.25, 0.25, 0.75, 1]);
    expect([0, 0.2, 0.25, 0.5, 0.75, 0.99].map((u) => placeAt(limits, u))).toEqual([0, 0, 2, 2, 3, 3]);
  });
});

describe("yearsToDeath()", () => {
  const shareDead = (age: number, year: number, yearsToSecond?: number) => {
    const people = 20_000;
    let dead = 0;
    for (let person = 0; person < people; person++) {
      if (yearsToDeath(-Math.log(1 - (person + 0.5) / people), age, yearsToSecond) <= year) dead++;
    }
    return (100 * dead) / people;
  };

  // Computed outside the project from the same hazard, printed with one decimal.
  it.each([
    [55, [0.1, 1.6, 4.5, 9.0]],
    [65, [0.4, 4.4, 11.7, 22.7]],
    [75, [1.1, 11.4, 28.8, 50.3]],
    [85, [2.9, 28.1, 60.3, 85.0]],
  ])("kills the stated shares of those operated at %i by 1, 5, 10 and 15 years", (age, expected) => {
    [1, 5, 10, 15].forEach((year, place) => {
      expect(Math.abs(shareDead(age, year) - (expected[place] ?? Number.NaN))).toBeLessThan(0.055);
    });
  });

  // Twin: the hazard added up in steps of a tenth of a day until it reaches the amount.
  it.each([undefined, 0, 0.4, 1, 2.5])(
    "agrees with adding up the hazard day by day (second knee after %s years)",
    (second) => {
      for (const amount of [0.002, 0.02, 0.3, 1.5]) {
        const step = 1 / 3652.5;
        let [left, years] = [amount, 0];
        for (; left > 0; years += step) {
          const middle = years + step / 2;
          const afterSecond = second !== undefined && middle >= second && middle < second + 1;
          const lowered = middle < 1 || afterSecond ? 0.5 : 1;
          left -= step * lowered * 0.0075 * Math.exp(0.1 * (70 + middle - 65));
        }
        expect(Math.abs(yearsToDeath(amount, 70, second) - years)).toBeLessThan(2 * step);
      }
    },
  );

  it("leaves the time before a second operation as it was", () => {
    expect(yearsToDeath(0.01, 70, 8)).toBe(yearsToDeath(0.01, 70));
    expect(yearsToDeath(0.1, 70, 8)).toBe(yearsToDeath(0.1, 70));
    expect(yearsToDeath(1, 70, 8)).toBeGreaterThan(yearsToDeath(1, 70));
  });
});

describe("meanEffect()", () => {
  // Closed form: (1 + 0.6·(0.4 − 1))·(1 + 0.4·(1.8 − 1)) and so on.
  it("averages the planted loosening effects over the planted shares of technique", () => {
    const effects = PLANTED_TRUTH.effects.filter(({ cause }) => cause === "loosening");
    expect(meanEffect(effects, 0)).toBeCloseTo(0.64 * 1.32, 12);
    expect(meanEffect(effects, 1)).toBeCloseTo(1 * 1.32, 12);
    expect(meanEffect(effects, 2)).toBeCloseTo(1.3 * 1.32, 12);
    expect(meanEffect([], 0)).toBe(1);
  });
});
