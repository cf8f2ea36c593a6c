import { describe, expect, it } from "vitest";
import { addColumns } from "../../src/regression/add-columns.ts";

describe("addColumns()", () => {
  it("adds slope times column from one row up to another, whatever the number of columns (twin)", () => {
    for (let count = 1; count <= 9; count += 1) {
      const columns = Array.from({ length: count }, (_, j) => Float64Array.of(j, 1, -j, 2 * j, 7));
      const slopes = columns.map((_, j) => j - 2.5);
      const sums = Float64Array.of(1, 1, 1, 1, 1);
      addColumns(sums, columns, slopes, 1, 4);
      const wanted = [1, 1, 1, 1, 1].map((start, row) =>
        row < 1 || row >= 4
          ? start
          : columns.reduce((sum, column, j) => sum + (slopes[j] ?? 0) * (column[row] ?? 0), start),
      );
      expect([...sums]).toEqual(wanted);
    }
  });

  it("adds a column that is met twice, twice", () => {
    const x = Float64Array.of(1, 2, 3);
    const sums = new Float64Array(3);
    addColumns(sums, [x, x, x], [1, 1, 0.5], 0, 3);
    expect([...sums]).toEqual([2.5, 5, 7.5]);
  });
});
