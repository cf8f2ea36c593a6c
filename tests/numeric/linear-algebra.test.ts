import { describe, expect, it } from "vitest";
import { randomStreams } from "../../src/base/random-streams.ts";
import { generalisedForm } from "../../src/numeric/generalised-form.ts";
import { choleskyFactor, choleskySolve, symmetricInverse } from "../../src/numeric/symmetric-matrix.ts";

/** A positive definite matrix B Bᵀ + I, the same for the same seed. */
function definite(seed: number, size: number): number[][] {
  const stream = randomStreams(seed).stream("matrix");
  const b = Array.from({ length: size }, () => Array.from({ length: size }, () => stream.uniform() - 0.5));
  return b.map((row, i) =>
    b.map((other, j) => row.reduce((sum, value, k) => sum + value * (other[k] ?? 0), i === j ? 1 : 0)),
  );
}

function times(matrix: readonly (readonly number[])[], x: readonly number[]): number[] {
  return matrix.map((row) => row.reduce((sum, value, k) => sum + value * (x[k] ?? 0), 0));
}

describe("symmetric matrices", () => {
  it("solve A x = b (identity, seeds 1 to 5)", () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const matrix = definite(seed, 7);
      const factor = choleskyFactor(matrix);
      const b = matrix.map((_, at) => at - 3);
      expect(factor).toBeDefined();
      if (factor === undefined) continue;
      times(matrix, choleskySolve(factor, b)).forEach((value, at) => {
        expect(value).toBeCloseTo(b[at] ?? Number.NaN, 12);
      });
    }
  });

  it("invert, symmetric to the last bit (identity and closed form)", () => {
    expect(
      symmetricInverse([
        [4, 2],
        [2, 5],
      ]),
    ).toEqual([
      [0.3125, -0.125],
      [-0.125, 0.25],
    ]);
    const matrix = definite(8, 6);
    const inverse = symmetricInverse(matrix) ?? [];
    inverse.forEach((row, i) => {
      expect(row).toEqual(inverse.map((other) => other[i]));
      times(matrix, row).forEach((value, j) => {
        expect(value).toBeCloseTo(i === j ? 1 : 0, 12);
      });
    });
  });

  it("are refused where they have no inverse, and where they are not square", () => {
    expect(
      symmetricInverse([
        [1, 1],
        [1, 1],
      ]),
    ).toBeUndefined();
    expect(
      symmetricInverse([
        [1, 2],
        [2, 1],
      ]),
    ).toBeUndefined();
    expect(symmetricInverse([[0]])).toBeUndefined();
    expect(symmetricInverse([[Number.NaN]])).toBeUndefined();
    expect(() => choleskyFactor([[1, 2]])).toThrow("as many columns as rows");
    expect(symmetricInverse([])).toEqual([]);
  });
});

describe("generalisedForm()", () => {
  it("is the ordinary form for full rank (identity)", () => {
    const matrix = definite(4, 5);
    const u = [1, -2, 0.5, 3, -1];
    const factor = choleskyFactor(matrix);
    const ordinary = factor
      ? choleskySolve(factor, u).reduce((sum, value, at) => sum + value * (u[at] ?? 0), 0)
      : Number.NaN;
    const { value, rank } = generalisedForm(u, matrix);
    expect(rank).toBe(5);
    expect(value).toBeCloseTo(ordinary, 11);
  });

  it("leaves out what the rest explains, whichever is left out (closed form)", () => {
    // Multinomial covariance of three counts that add up to a fixed total: Pearson's chi-square on 2.
    const share = [0.2, 0.3, 0.5];
    const matrix = share.map((p, i) => share.map((q, j) => 100 * ((i === j ? p : 0) - p * q)));
    const u = [5, -8, 3];
    const pearson = u.reduce((sum, value, at) => sum + (value * value) / (100 * (share[at] ?? 1)), 0);
    const { value, rank } = generalisedForm(u, matrix);
    expect(rank).toBe(2);
    expect(value).toBeCloseTo(pearson, 12);
  });

  it("keeps a small group's information beside a large one", () => {
    expect(
      generalisedForm(
        [1e-4, 1e4],
        [
          [1e-8, 0],
          [0, 1e8],
        ],
      ),
    ).toEqual({ value: 2, rank: 2 });
  });

  it("has rank 0 without information and leaves its arguments alone", () => {
    const u = [0, 0];
    const matrix = [
      [0, 0],
      [0, 0],
    ];
    expect(generalisedForm(u, matrix)).toEqual({ value: 0, rank: 0 });
    const before = JSON.stringify(definite(3, 3));
    const given = definite(3, 3);
    generalisedForm([1, 2, 3], given);
    expect(JSON.stringify(given)).toBe(before);
  });
});
