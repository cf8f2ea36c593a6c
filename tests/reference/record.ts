import { expect } from "vitest";

export {
  codeColumn,
  numberColumn,
  type ReferenceRecord,
  referenceRecord,
  referenceRecords,
  referenceRows,
  wholeTicks,
} from "./reference-files.ts";

/** Compares by relative distance, as most records ask; an expected 0 must be met exactly. */
export function expectRelative(actual: number | null | undefined, expected: number, relative: number): void {
  const close = typeof actual === "number" && Math.abs(actual - expected) <= relative * Math.abs(expected);
  if (!close) expect(actual, `within ${relative} of the reference, relative`).toBe(expected);
}

/** As `expectRelative` for arrays; lengths must be equal, and null (not defined) must meet null. */
export function expectAllRelative(
  actual: readonly (number | null)[],
  expected: readonly (number | null)[],
  relative: number,
): void {
  expect(actual.length).toBe(expected.length);
  expected.forEach((value, at) => {
    if (value === null) expect(actual[at], `element ${at}`).toBeNull();
    else expectRelative(actual[at], value, relative);
  });
}

/** Compares with printed figures: within half a unit of their last decimal. */
export function expectPrinted(
  actual: readonly (number | null | undefined)[],
  printed: readonly number[],
  decimals: number,
): void {
  // Half a unit, and the rounding of the comparison itself.
  const half = 0.5 * Number(`1e-${decimals}`) + 1e-12;
  expect(actual.length).toBe(printed.length);
  for (const [at, figure] of printed.entries()) {
    const value = actual[at];
    expect(value, `element ${at}`).toBeTypeOf("number");
    expect(
      Math.abs((value ?? 0) - figure),
      `element ${at}: ${value} printed as ${figure}`,
    ).toBeLessThanOrEqual(half);
  }
}
