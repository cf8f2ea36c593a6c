import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { conjugateGradient } from "../../src/numeric/conjugate-gradient.ts";
import { choleskyFactor, choleskySolve } from "../../src/numeric/symmetric-matrix.ts";

const times = (matrix: readonly (readonly number[])[]) => (vector: Float64Array) =>
  Float64Array.from(matrix, (line) => line.reduce((sum, value, k) => sum + value * (vector[k] ?? 0), 0));
const asItIs = (vector: Float64Array) => vector.slice();

describe("conjugateGradient()", () => {
  it("solves two equations in two steps (closed form)", () => {
    const apply = times([
      [4, 1],
      [1, 3],
    ]);
    const { solution, converged, steps } = conjugateGradient(apply, Float64Array.of(1, 2), asItIs);
    expect(converged).toBe(true);
    expect(steps).toBe(2);
    expect(solution[0]).toBeCloseTo(1 / 11, 14);
    expect(solution[1]).toBeCloseTo(7 / 11, 14);
  });

  it("takes one step where the preconditioner is the inverse, and none for nothing", () => {
    const apply = times([
      [2, 0],
      [0, 50],
    ]);
    const inverse = (vector: Float64Array) => Float64Array.of((vector[0] ?? 0) / 2, (vector[1] ?? 0) / 50);
    expect(conjugateGradient(apply, Float64Array.of(4, 5), inverse)).toMatchObject({
      converged: true,
      steps: 1,
      solution: Float64Array.of(2, 0.1),
    });
    expect(conjugateGradient(apply, new Float64Array(2), inverse).steps).toBe(0);
    expect(conjugateGradient(apply, new Float64Array(0), inverse).converged).toBe(true);
  });

  it("agrees with Cholesky's factor for positive definite matrices (twin), and leaves b alone", () => {
    const entry = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(fc.array(entry, { minLength: 4, maxLength: 4 }), { minLength: 4, maxLength: 4 }),
        (rows) => {
          const matrix = rows.map((one, j) =>
            rows.map((other, k) =>
              one.reduce((sum, value, m) => sum + value * (other[m] ?? 0), j === k ? 1 : 0),
            ),
          );
          const b = Float64Array.of(1, -2, 3, 0.5);
          const { solution, converged } = conjugateGradient(times(matrix), b, asItIs);
          expect(converged).toBe(true);
          expect([...b]).toEqual([1, -2, 3, 0.5]);
          const factor = choleskyFactor(matrix);
          if (factor === undefined) throw new Error("one plus a square is positive definite");
          choleskySolve(factor, b).forEach((value, k) => {
            expect(solution[k]).toBeCloseTo(value, 9);
          });
        },
      ),
    );
  });

  it("says so where it ran out of steps, and where the matrix does not bend upwards", () => {
    const apply = times([
      [4, 1],
      [1, 3],
    ]);
    expect(conjugateGradient(apply, Float64Array.of(1, 2), asItIs, { mostSteps: 1 })).toMatchObject({
      converged: false,
      steps: 1,
    });
    const down = (vector: Float64Array) => vector.map((value) => -value);
    expect(conjugateGradient(down, Float64Array.of(1, 2), asItIs).converged).toBe(false);
  });
});
