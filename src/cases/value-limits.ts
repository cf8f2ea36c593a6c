import { type Column, isPresent } from "../base/column.ts";
import type { ExportField } from "./descriptor.ts";
import { limitValue } from "./field-rules.ts";

/** The limits that the dictionary sets to a field, as tests of rows; a missing value breaks none. */
export interface ValueLimits {
  readonly isBelow: (row: number) => boolean;
  readonly isAbove: (row: number) => boolean;
}

const NEVER = () => false;

export function valueLimits({ constraints = {} }: ExportField, column: Column): ValueLimits {
  if (column.kind !== "number" && column.kind !== "day") return { isBelow: NEVER, isAbove: NEVER };
  const { kind, values } = column;
  const bound = (limit: number | string | undefined) =>
    limit === undefined ? undefined : limitValue(kind, limit);
  const [least, most] = [bound(constraints.minimum), bound(constraints.maximum)];
  return {
    isBelow: least === undefined ? NEVER : (row) => isPresent(column, row) && (values[row] ?? least) < least,
    isAbove: most === undefined ? NEVER : (row) => isPresent(column, row) && (values[row] ?? most) > most,
  };
}
