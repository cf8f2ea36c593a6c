import type { FittedColumn } from "../../src/regression/coefficient.ts";

interface Fit {
  readonly columns: readonly FittedColumn[];
}

/** Estimates in the order of the columns; null where there is none. */
export function estimatesOf({ columns }: Fit): (number | null)[] {
  return columns.map(({ coefficient }) => (coefficient.computed ? coefficient.estimate : null));
}

export function standardErrorsOf({ columns }: Fit): (number | null)[] {
  return columns.map(({ coefficient }) => (coefficient.computed ? coefficient.standardError : null));
}

/** All lower limits, then all upper ones. */
export function limitsOf({ columns }: Fit): (number | null)[] {
  const side = (name: "lower" | "upper") =>
    columns.map(({ coefficient }) => (coefficient.computed ? coefficient[name] : null));
  return [...side("lower"), ...side("upper")];
}
