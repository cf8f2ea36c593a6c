import { describe, expect, it } from "vitest";
import { randomStreams } from "../../src/base/random-streams.ts";

const draws = (seed: number, name: string, many: number) => {
  const stream = randomStreams(seed).stream(name);
  return Array.from({ length: many }, () => stream.uniform());
};

describe("randomStreams()", () => {
  it("gives the same numbers for the same seed and name, whatever else was drawn", () => {
    const streams = randomStreams(7);
    const other = streams.stream("other");
    const one = streams.stream("one");
    other.uniform();
    expect([one.uniform(), one.uniform()]).toEqual(draws(7, "one", 2));
  });

  it("gives other numbers for another seed or name", () => {
    expect(draws(7, "one", 3)).not.toEqual(draws(8, "one", 3));
    expect(draws(7, "one", 3)).not.toEqual(draws(7, "two", 3));
  });

  it("is evenly spread over [0, 1)", () => {
    const sample = draws(1, "spread", 20_000);
    const bins = Array.from(
      { length: 20 },
      (_, bin) => sample.filter((x) => Math.floor(x * 20) === bin).length,
    );
    const chiSquare = bins.reduce((sum, seen) => sum + ((seen - 1000) * (seen - 1000)) / 1000, 0);
    // closed form: upper 0.1 % point of chi-square on 19 degrees of freedom is 43.8
    expect(chiSquare).toBeLessThan(43.8);
    expect(Math.min(...sample)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...sample)).toBeLessThan(1);
  });

  it("draws whole numbers below the limit, every one of them", () => {
    const stream = randomStreams(3).stream("below");
    const seen = new Set(Array.from({ length: 400 }, () => stream.below(6)));
    expect([...seen].sort()).toEqual([0, 1, 2, 3, 4, 5]);
  });

  it("refuses a seed that is not a whole number from 0 up", () => {
    expect(() => randomStreams(-1)).toThrow(/seed/);
    expect(() => randomStreams(1.5)).toThrow(/seed/);
  });
});
