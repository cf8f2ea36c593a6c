import { describe, expect, it } from "vitest";
import { randomStreams } from "../../src/base/random-streams.ts";
import { sharesFreedom } from "../../src/survival/shares-freedom.ts";

const equal = (clusters: number, before = 0) => [
  ...new Array<number>(before).fill(0),
  ...new Array<number>(clusters).fill(1 / clusters),
];

describe("sharesFreedom()", () => {
  it("leaves k − 1 of k equal clusters (closed form)", () => {
    for (const clusters of [2, 5, 40]) {
      expect(sharesFreedom([{ shares: equal(clusters), variance: 0.3 }])).toBeCloseTo(clusters - 1, 10);
    }
  });

  it("is that of Welch for two groups of equal clusters that share none (closed form, Welch 1947)", () => {
    const welch = (k: number, v: number, m: number, w: number) => {
      const [first, second] = [(v * k) / (k - 1), (w * m) / (m - 1)];
      return (first + second) ** 2 / (first ** 2 / (k - 1) + second ** 2 / (m - 1));
    };
    const found = sharesFreedom([
      { shares: equal(4), variance: 5 },
      { shares: equal(20, 4), variance: 1 },
    ]);
    expect(found).toBeCloseTo(welch(4, 5, 20, 1), 10);
    expect(found).toBeGreaterThan(3);
    expect(found).toBeLessThan(5);
  });

  it("is tr(G)² / tr(G²) of the whole matrix, written out (twin), whichever clusters are in both groups", () => {
    const stream = randomStreams(7).stream("shares");
    for (let draw = 0; draw < 20; draw += 1) {
      const groups = [0, 1].map(() => {
        const sizes = Array.from({ length: 9 }, () => Math.max(0, stream.uniform() - 0.3));
        const all = sizes.reduce((sum, size) => sum + size, 0);
        return { shares: sizes.map((size) => size / all), variance: stream.uniform() };
      });
      const matrix = Array.from({ length: 9 }, (_, c) =>
        Array.from({ length: 9 }, (_, d) =>
          groups.reduce((sum, { shares, variance }) => {
            const [s, t] = [shares[c] ?? 0, shares[d] ?? 0];
            // Rows independent: shares of the variance by themselves, less what adding up to nothing takes off.
            return sum + (variance * ((c === d ? s : 0) - s * t)) / ((1 - s) * (1 - t));
          }, 0),
        ),
      );
      const trace = matrix.reduce((sum, row, c) => sum + (row[c] ?? 0), 0);
      const squares = matrix.flat().reduce((sum, value) => sum + value * value, 0);
      expect(sharesFreedom(groups)).toBeCloseTo(trace ** 2 / squares, 8);
    }
  });

  it("has none where clusters leave nothing to vary", () => {
    expect(sharesFreedom([{ shares: [1], variance: 1 }])).toBe(0);
    expect(sharesFreedom([{ shares: [], variance: 1 }])).toBe(0);
    // A cluster that is all of one group: the other group's four alone count.
    const alone = { shares: [1, 0, 0, 0, 0], variance: 1 };
    expect(sharesFreedom([alone, { shares: equal(4, 1), variance: 1 }])).toBeCloseTo(3, 10);
  });
});
