import { describe, expect, it } from "vitest";
import { randomStreams } from "../../src/base/random-streams.ts";
import {
  choleskyFactor,
  type SymmetricMatrix,
  symmetricInverse,
} from "../../src/numeric/symmetric-matrix.ts";
import { scoreFreedom } from "../../src/regression/score-freedom.ts";
import { sharesFreedom } from "../../src/survival/shares-freedom.ts";

type Matrix = number[][];

const times = (a: SymmetricMatrix, b: SymmetricMatrix): Matrix =>
  a.map((line) =>
    (b[0] ?? []).map((_, k) => line.reduce((sum, value, m) => sum + value * (b[m]?.[k] ?? 0), 0)),
  );
const less = (a: SymmetricMatrix, b: SymmetricMatrix): Matrix =>
  a.map((line, j) => line.map((value, k) => value - (b[j]?.[k] ?? 0)));
const added = (all: readonly SymmetricMatrix[]): Matrix =>
  (all[0] ?? []).map((line, j) => line.map((_, k) => all.reduce((sum, one) => sum + (one[j]?.[k] ?? 0), 0)));
function inverse(matrix: SymmetricMatrix): Matrix {
  const found = symmetricInverse(matrix);
  if (found === undefined) throw new Error("an inverse was expected");
  return found;
}
const partOf = (information: SymmetricMatrix) => (own: SymmetricMatrix) => ({
  own,
  rest: choleskyFactor(less(information, own)),
});

/** Sum of products of a few random columns: symmetric and not negative. */
function drawn(seed: string, size: number): Matrix {
  const stream = randomStreams(5).stream(seed);
  const rows = Array.from({ length: 4 }, () => Array.from({ length: size }, () => stream.uniform() - 0.4));
  return added(rows.map((row) => row.map((a) => row.map((b) => a * b))));
}

describe("scoreFreedom()", () => {
  it("is tr(G)² / tr(G²) of the matrix of corrected scores, written out (twin)", () => {
    for (const clusters of [3, 7, 12]) {
      const own = Array.from({ length: clusters }, (_, c) => drawn(`${clusters}, ${c}`, 3));
      const information = added(own);
      const bread = inverse(information);
      // (I − A_c A⁻¹)⁻¹ = A (A − A_c)⁻¹.
      const corrected = own.map((part) => times(information, inverse(less(information, part))));
      const freedom = scoreFreedom(information, own.map(partOf(information)));
      for (let j = 0; j < 3; j += 1) {
        const slope = [0, 1, 2].map((k) => (k === j ? 1 : 0));
        const number = times([slope], bread);
        const entry = (c: number, d: number) => {
          const first = own[c] ?? [];
          const shared = times(times(first, bread), own[d] ?? []);
          const middle = c === d ? less(first, shared) : shared.map((line) => line.map((value) => -value));
          const [left = [], right = []] = [corrected[c], corrected[d]];
          const ends = (matrix: Matrix) => times(number, matrix)[0] ?? [];
          const [a, b] = [ends(left), ends(right)];
          return a.reduce(
            (sum, value, m) => sum + value * b.reduce((s, w, n) => s + w * (middle[m]?.[n] ?? 0), 0),
            0,
          );
        };
        let [trace, squares] = [0, 0];
        for (let c = 0; c < clusters; c += 1) {
          trace += entry(c, c);
          for (let d = 0; d < clusters; d += 1) squares += entry(c, d) ** 2;
        }
        expect(freedom(number[0] ?? [])).toBeCloseTo(trace ** 2 / squares, 7);
      }
    }
  });

  it("is that of shares where there is one coefficient (identity)", () => {
    const shares = [0.1, 0.4, 0.3, 0.2];
    const information = [[8]];
    const parts = shares.map((share) => [[8 * share]]).map(partOf(information));
    expect(scoreFreedom(information, parts)([1])).toBeCloseTo(sharesFreedom([{ shares, variance: 1 }]), 10);
  });

  it("does not depend on the scale of a column (identity)", () => {
    const own = Array.from({ length: 6 }, (_, c) => drawn(`scale, ${c}`, 2));
    const scaled = own.map((part) =>
      part.map((line, j) => line.map((v, k) => v * [1, 50][j]! * [1, 50][k]!)),
    );
    const of = (parts: Matrix[]) => scoreFreedom(added(parts), parts.map(partOf(added(parts))));
    expect(of(scaled)([0, 1])).toBeCloseTo(of(own)([0, 1]), 8);
    expect(of(scaled)([1, 0])).toBeCloseTo(of(own)([1, 0]), 8);
  });

  it("has none where nothing is left", () => {
    expect(scoreFreedom([[0]], [])([1])).toBe(0);
    expect(scoreFreedom([[4]], [{ own: [[4]], rest: undefined }])([1])).toBe(0);
  });
});
