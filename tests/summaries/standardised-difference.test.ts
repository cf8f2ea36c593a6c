import { describe, expect, it } from "vitest";
import { ArgumentError } from "../../src/base/errors.ts";
import { randomStreams } from "../../src/base/random-streams.ts";
import {
  type StandardisedDifference,
  standardisedCategoryDifference,
  standardisedDifference,
  standardisedShareDifference,
} from "../../src/summaries/standardised-difference.ts";
import { expectRelative, numberColumn, referenceRecord, referenceRows } from "../reference/record.ts";

const random = randomStreams(2012).stream("standardised differences");
const { expected } = referenceRecord("08_groups", "smd.lalonde");
const rows = referenceRows("lalonde.csv");
const treated = rows.filter((row) => row.treat === "1");
const untreated = rows.filter((row) => row.treat === "0");

function differenceOf(answer: StandardisedDifference): number {
  if (!answer.computed) throw new Error(answer.code);
  return answer.value;
}

function countsOf(group: typeof rows, field: string, values: readonly string[]): number[] {
  return values.map((value) => group.filter((row) => row[field] === value).length);
}

/** Gaussian elimination with the covariance written out, the last category left out. */
function mahalanobisTwin(
  first: readonly number[],
  second: readonly number[],
  shift?: readonly number[],
): number {
  const shares = (counts: readonly number[]) => {
    const total = counts.reduce((sum, count) => sum + count, 0);
    return counts.map((count) => count / total);
  };
  const met = first.map((count, at) => count + (second[at] ?? 0) > 0);
  const keep = <Item>(list: readonly Item[]) => list.filter((_, at) => met[at]).slice(0, -1);
  const [p, q] = [keep(shares(first)), keep(shares(second))];
  const at = (list: readonly number[], place: number) => list[place] ?? Number.NaN;
  const covariance = (share: readonly number[], i: number, j: number) =>
    i === j ? at(share, i) * (1 - at(share, i)) : -at(share, i) * at(share, j);
  const d = shift === undefined ? p.map((share, i) => share - at(q, i)) : keep(shift);
  const system = p.map((_, i) => [
    ...p.map((__, j) => (covariance(p, i, j) + covariance(q, i, j)) / 2),
    at(d, i),
  ]);
  const size = p.length;
  for (let pivot = 0; pivot < size; pivot += 1) {
    for (let row = 0; row < size; row += 1) {
      if (row === pivot) continue;
      const factor = at(system[row] ?? [], pivot) / at(system[pivot] ?? [], pivot);
      system[row] = (system[row] ?? []).map(
        (value, column) => value - factor * at(system[pivot] ?? [], column),
      );
    }
  }
  const solved = system.map((row, i) => at(row, size) / at(row, i));
  return Math.sqrt(solved.reduce((sum, value, i) => sum + value * at(d, i), 0));
}

describe("standardisedDifference()", () => {
  it.each(["age", "educ", "re74", "re75"])(
    "agrees for %s of the training programme (reference: R)",
    (field) => {
      const answer = standardisedDifference(numberColumn(treated, field), numberColumn(untreated, field));
      expectRelative(differenceOf(answer), expected[field], 1e-11);
    },
  );

  it("divides weighted means by the unweighted spread (reference: R, six decimals)", () => {
    const [first, second] = [
      [60, 62, 65],
      [70, 71, 80],
    ] as const;
    expect(differenceOf(standardisedDifference(first, second))).toBeCloseTo(-2.646896, 6);
    const weights = { first: [1, 2, 1], second: [3, 1, 1] };
    expect(differenceOf(standardisedDifference(first, second, { weights }))).toBeCloseTo(-2.323819, 6);
  });

  it("does not move when all weights are equal, or multiplied (identity)", () => {
    const [first, second] = [
      [1, 4, 9, 9.5],
      [2, 3, 8],
    ] as const;
    const plain = differenceOf(standardisedDifference(first, second));
    const same = { first: [3, 3, 3, 3], second: [0.1, 0.1, 0.1] };
    expectRelative(differenceOf(standardisedDifference(first, second, { weights: same })), plain, 1e-14);
  });

  it("changes its sign with the order of the groups, and nothing with the unit (identities)", () => {
    const [first, second] = [
      [61, 64, 70],
      [66, 79, 83, 90],
    ] as const;
    const value = differenceOf(standardisedDifference(first, second));
    expect(differenceOf(standardisedDifference(second, first))).toBe(-value);
    const inCentimetres = (list: readonly number[]) => list.map((item) => 2.54 * item - 40);
    expectRelative(
      differenceOf(standardisedDifference(inCentimetres(first), inCentimetres(second))),
      value,
      1e-13,
    );
  });

  it.each([
    ["nobody", [], [1, 2], "no-values"],
    ["one value in a group", [5], [1, 2], "one-value"],
    ["no spread and different means", [0.1, 0.1, 0.1], [0.3, 0.3], "no-spread"],
  ])("is not defined with %s", (_what, first, second, code) => {
    expect(standardisedDifference(first, second)).toMatchObject({ computed: false, code });
    expect(standardisedDifference(second, first)).toMatchObject({ computed: false, code });
  });

  it("is exactly 0 for equal groups, with or without spread", () => {
    // Three times 0.1, summed and divided, is not 0.1: equal constants must not differ by rounding.
    expect(differenceOf(standardisedDifference([0.1, 0.1, 0.1], [0.1, 0.1]))).toBe(0);
    expect(differenceOf(standardisedDifference([1, 2, 7], [7, 2, 1]))).toBe(0);
  });

  it("is defined where one group alone has spread", () => {
    // Closed form: means 1 and 3, variances 0 and 2.
    expect(differenceOf(standardisedDifference([1, 1, 1], [2, 4]))).toBe(-2);
  });

  it("leaves the caller's arrays alone and refuses what is not a number", () => {
    const first = Float64Array.from([3, 1, 2]);
    standardisedDifference(first, [1, 5]);
    expect([...first]).toEqual([3, 1, 2]);
    expect(() => standardisedDifference([1, Number.NaN], [1, 2])).toThrow(ArgumentError);
    expect(() => standardisedDifference([1, Number.POSITIVE_INFINITY], [1, 2])).toThrow(ArgumentError);
    expect(() => standardisedDifference([1, 2], [1, 2], { weights: { first: [1], second: [1, 1] } })).toThrow(
      ArgumentError,
    );
    expect(() =>
      standardisedDifference([1, 2], [1, 2], { weights: { first: [-1, 2], second: [1, 1] } }),
    ).toThrow(ArgumentError);
    expect(() =>
      standardisedDifference([1, 2], [1, 2], { weights: { first: [0, 0], second: [1, 1] } }),
    ).toThrow(ArgumentError);
  });
});

describe("standardisedShareDifference()", () => {
  it.each(["married", "nodegree"])("agrees for %s of the training programme (reference: R)", (field) => {
    const part = (group: typeof rows) => ({
      count: countsOf(group, field, ["1"])[0] ?? 0,
      total: group.length,
    });
    expectRelative(
      differenceOf(standardisedShareDifference(part(treated), part(untreated))),
      expected[field],
      1e-11,
    );
  });

  it("is not defined for none against all, 0 for none against none, and not defined for nobody", () => {
    expect(standardisedShareDifference({ count: 0, total: 5 }, { count: 4, total: 4 })).toMatchObject({
      code: "no-spread",
    });
    expect(differenceOf(standardisedShareDifference({ count: 0, total: 5 }, { count: 0, total: 9 }))).toBe(0);
    expect(standardisedShareDifference({ count: 0, total: 0 }, { count: 1, total: 9 })).toMatchObject({
      code: "no-values",
    });
    // Closed form: (1/2 − 0) / √((1/4 + 0) / 2) = √2.
    expect(
      differenceOf(standardisedShareDifference({ count: 2, total: 4 }, { count: 0, total: 9 })),
    ).toBeCloseTo(Math.SQRT2, 15);
  });

  it("refuses more than the whole", () => {
    expect(() => standardisedShareDifference({ count: 6, total: 5 }, { count: 1, total: 2 })).toThrow(
      ArgumentError,
    );
  });
});

describe("standardisedCategoryDifference()", () => {
  const LEVELS = expected.raceLevels as string[];
  const [first, second] = [countsOf(treated, "race", LEVELS), countsOf(untreated, "race", LEVELS)];

  it("agrees for three categories of the training programme (reference: R)", () => {
    expectRelative(differenceOf(standardisedCategoryDifference(first, second)), expected.race, 1e-11);
  });

  it("agrees with the covariance written out and inverted (twin, seeded)", () => {
    for (let draw = 0; draw < 200; draw += 1) {
      const size = 2 + random.below(5);
      const counts = () => Array.from({ length: size }, () => 1 + random.below(40));
      const [a, b, c, d] = [counts(), counts(), counts(), counts()];
      expectRelative(differenceOf(standardisedCategoryDifference(a, b)), mahalanobisTwin(a, b), 1e-8);
      const total = (list: readonly number[]) => list.reduce((sum, count) => sum + count, 0);
      const shift = c.map((count, at) => count / total(c) - (d[at] ?? 0) / total(d));
      const moved = standardisedCategoryDifference(a, b, { weighted: { first: c, second: d } });
      expectRelative(differenceOf(moved), mahalanobisTwin(a, b, shift), 1e-8);
    }
  });

  it("is the size of the difference of shares with two categories (identity)", () => {
    const shares = standardisedShareDifference({ count: 3, total: 10 }, { count: 12, total: 17 });
    expectRelative(
      differenceOf(standardisedCategoryDifference([3, 7], [12, 5])),
      Math.abs(differenceOf(shares)),
      1e-14,
    );
  });

  it("does not change with the order of the categories or with one that nobody is in (identities)", () => {
    const value = differenceOf(standardisedCategoryDifference(first, second));
    expectRelative(
      differenceOf(standardisedCategoryDifference(first.toReversed(), second.toReversed())),
      value,
      1e-14,
    );
    expect(differenceOf(standardisedCategoryDifference([...first, 0], [...second, 0]))).toBe(value);
    expect(differenceOf(standardisedCategoryDifference(second, first))).toBe(value);
    const weighted = { first: first.map((count) => 2 * count), second };
    expectRelative(differenceOf(standardisedCategoryDifference(first, second, { weighted })), value, 1e-14);
  });

  it.each([
    ["no category is met in both groups", [3, 0, 2], [0, 4, 0], "no-spread"],
    ["a group is empty", [0, 0], [1, 2], "no-values"],
    ["there are no categories", [], [], "no-values"],
  ])("is not defined where %s", (_what, a, b, code) => {
    expect(standardisedCategoryDifference(a, b)).toMatchObject({ computed: false, code });
  });

  it("is 0 where all are alike", () => {
    expect(differenceOf(standardisedCategoryDifference([5, 0], [9, 0]))).toBe(0);
    expect(differenceOf(standardisedCategoryDifference([1, 2], [2, 4]))).toBe(0);
  });

  it("refuses categories of different lists and counts below 0", () => {
    expect(() => standardisedCategoryDifference([1, 2], [1, 2, 3])).toThrow(ArgumentError);
    expect(() => standardisedCategoryDifference([1, -2], [1, 2])).toThrow(ArgumentError);
  });
});
