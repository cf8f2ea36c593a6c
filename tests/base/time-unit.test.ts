import { describe, expect, it } from "vitest";
import { TIME_UNITS, tickOfYear, yearsOfTicks } from "../../src/base/time-unit.ts";

describe("tickOfYear()", () => {
  it("is the last whole tick within the years", () => {
    expect(tickOfYear(5, TIME_UNITS.day)).toBe(1826); // closed form: 5 × 365.25 = 1826.25
    expect(tickOfYear(0.25, TIME_UNITS.day)).toBe(91); // 3 months is day 91
    expect(tickOfYear(10, TIME_UNITS.month)).toBe(120);
    expect(tickOfYear(3, TIME_UNITS.year)).toBe(3);
  });
});

describe("yearsOfTicks()", () => {
  it("is for labels: ticks over ticks per year", () => {
    expect(yearsOfTicks(1461, TIME_UNITS.day)).toBe(4);
  });
});
