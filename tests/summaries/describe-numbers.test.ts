import { describe, expect, it } from "vitest";
import { ArgumentError } from "../../src/base/errors.ts";
import { randomStreams } from "../../src/base/random-streams.ts";
import { describeNumbers } from "../../src/summaries/describe-numbers.ts";

const random = randomStreams(7).stream("descriptions");

/** Type 7 from its definition: the value at 1 + (n − 1)p in the ordered list, between neighbours in proportion. */
function quantileTwin(values: readonly number[], share: number): number {
  const ordered = [...values].sort((a, b) => a - b);
  const place = (ordered.length - 1) * share;
  const below = ordered[Math.floor(place)] ?? 0;
  return below + (place - Math.floor(place)) * ((ordered[Math.ceil(place)] ?? 0) - below);
}

describe("describeNumbers()", () => {
  it("gives quartiles of type 7 and a standard deviation over n − 1 (reference: R, ten digits)", () => {
    const { n, centre, spread } = describeNumbers([61, 64, 66, 70, 71, 75, 79, 83]);
    expect(n).toBe(8);
    expect(centre).toMatchObject({
      lowerQuartile: 65.5,
      median: 70.5,
      upperQuartile: 76,
      mean: 71.125,
      minimum: 61,
      maximum: 83,
    });
    expect(spread.computed && spread.value).toBeCloseTo(7.548651724, 9);
  });

  it("gives 1.870829 for the standard deviation of 1 to 6 (reference: R; √3.5 in closed form)", () => {
    const { spread } = describeNumbers([1, 2, 3, 4, 5, 6]);
    expect(spread.computed && spread.value).toBeCloseTo(Math.sqrt(3.5), 14);
  });

  it("has no spread for one value and nothing for none, and says so", () => {
    const one = describeNumbers([42], { missing: 3 });
    expect(one.centre).toMatchObject({ computed: true, mean: 42, median: 42, lowerQuartile: 42 });
    expect(one.spread).toMatchObject({ computed: false, code: "one-value" });
    expect(one.missing).toBe(3);
    const none = describeNumbers([], { missing: 2 });
    expect([none.n, none.missing]).toEqual([0, 2]);
    expect(none.centre).toMatchObject({ computed: false, code: "no-values" });
    expect(none.spread).toMatchObject({ computed: false, code: "no-values" });
  });

  it("gives equal values their own value and a spread of exactly 0", () => {
    const { centre, spread } = describeNumbers([0.1, 0.1, 0.1]);
    expect(centre).toMatchObject({ mean: 0.1, median: 0.1 });
    expect(spread).toMatchObject({ value: 0 });
  });

  it("keeps its digits far from zero (closed form: spread 1)", () => {
    const { centre, spread } = describeNumbers([1e9 + 1, 1e9 + 2, 1e9 + 3]);
    expect(centre).toMatchObject({ mean: 1e9 + 2 });
    expect(spread).toMatchObject({ value: 1 });
  });

  it("agrees with the definitions on random lists, whatever their order (twin, seeded)", () => {
    for (let draw = 0; draw < 100; draw += 1) {
      const values = Array.from({ length: 2 + random.below(40) }, () => random.below(20) + random.uniform());
      const { centre, spread } = describeNumbers(values);
      if (!centre.computed || !spread.computed) throw new Error("not computed");
      const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
      const squares = values.reduce((sum, value) => sum + (value - mean) * (value - mean), 0);
      expect(centre.mean).toBeCloseTo(mean, 11);
      expect(spread.value).toBeCloseTo(Math.sqrt(squares / (values.length - 1)), 11);
      expect([centre.lowerQuartile, centre.median, centre.upperQuartile]).toEqual(
        [0.25, 0.5, 0.75].map((share) => expect.closeTo(quantileTwin(values, share), 11)),
      );
      expect(describeNumbers(values.toReversed())).toEqual(describeNumbers(values));
    }
  });

  it("refuses what is not a finite number, wherever it stands", () => {
    for (const wrong of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      expect(() => describeNumbers([1, wrong, 2])).toThrow(ArgumentError);
    }
  });

  it("does not let large numbers run over into the infinite", () => {
    const summed = describeNumbers([1.7e308, 1.6e308, 1.7e308]);
    expect(summed.centre).toMatchObject({ computed: false, code: "out-of-range" });
    const squared = describeNumbers([1e200, -1e200]);
    expect(squared.centre).toMatchObject({ mean: 0 });
    expect(squared.spread).toMatchObject({ computed: false, code: "out-of-range" });
  });
});
