import { describe, expect, it } from "vitest";
import { scaledColumn } from "../../src/regression/scaled-columns.ts";

const everywhere = (rows: number) => Int32Array.from({ length: rows }, (_, row) => row);
const scaled = (values: Float64Array, places = everywhere(values.length)) =>
  scaledColumn("fit", "x", values, places);

describe("scaledColumn()", () => {
  it("centres on the mean, divides by the standard deviation, and puts each value at its rank (closed form)", () => {
    const { values, centre, scale } = scaledColumn(
      "fit",
      "x",
      Float64Array.of(3, 99, 5, 7),
      Int32Array.of(0, 2, 3),
      Int32Array.of(2, 0, 1),
    );
    expect([centre, scale]).toEqual([5, Math.sqrt(8 / 3)]);
    expect(Array.from(values)).toEqual([0, 2, -2].map((distance) => distance / scale));
  });

  it("knows one value in every row, though its mean is rounded, from values that nearly agree", () => {
    const same = scaled(new Float64Array(100_000).fill(0.1));
    expect(same).toMatchObject({ isConstant: true, centre: 0.1, scale: 1 });
    expect(same.values.every((value) => value === 0)).toBe(true);
    const nearly = Float64Array.from({ length: 1000 }, (_, row) => 1e9 + (row === 500 ? 1 : 0));
    expect(scaled(nearly).isConstant).toBe(false);
    expect(scaled(new Float64Array(0), everywhere(0))).toMatchObject({ isConstant: true, scale: 1 });
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY, -1e150, 1e300])(
    "refuses %d, and says in which row",
    (bad) => {
      const values = new Float64Array(1_000_000);
      values[414] = bad;
      expect(() => scaled(values)).toThrow("fit: row 415 of the model matrix, x: must be a finite number");
      // Rows that are left out may hold anything.
      expect(scaled(values, everywhere(400)).isConstant).toBe(true);
    },
  );

  it("takes numbers just below the largest", () => {
    expect(scaled(Float64Array.of(9e149, -9e149)).scale).toBe(9e149);
  });
});
