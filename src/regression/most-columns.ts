import { ArgumentError } from "../base/errors.ts";

/** The time of a fit grows with the square of its columns: a few hundred take a minute, thousands never end. */
export const MOST_COLUMNS = 500;

export function requireFewColumns(what: string, columns: number): void {
  if (columns <= MOST_COLUMNS) return;
  throw new ArgumentError(
    `modelMatrix: ${what} would make ${columns} columns, and ${MOST_COLUMNS} is the most; put levels together, or give the field as the stratum or the cluster`,
  );
}
