import type { CodeColumn, NumberColumn } from "../../src/base/column.ts";

/** A column of numbers; undefined is missing, a word is missing for that reason. */
export function numbers(field: string, cells: readonly (number | string | undefined)[]): NumberColumn {
  const missingReasons = reasonsOf(cells.filter((cell) => typeof cell !== "number"));
  return {
    kind: "number",
    field,
    // What stands beside a missing mark must not be read: a wrong value shows if it is.
    values: Float64Array.from(cells, (cell) => (typeof cell === "number" ? cell : 1e9)),
    missing: marks(cells, missingReasons, (cell) => typeof cell === "number"),
    missingReasons,
  };
}

/** A column of codes; what is not in `codes` is missing for that reason. */
export function codes(
  field: string,
  list: readonly string[],
  cells: readonly (string | undefined)[],
): CodeColumn {
  const isCode = (cell: number | string | undefined) => typeof cell === "string" && list.includes(cell);
  const missingReasons = reasonsOf(cells.filter((cell) => !isCode(cell)));
  return {
    kind: "code",
    field,
    codes: list,
    labels: list.map((code) => `label ${code}`),
    values: Uint8Array.from(cells, (cell) => Math.max(0, list.indexOf(cell ?? ""))),
    missing: marks(cells, missingReasons, isCode),
    missingReasons,
  };
}

function reasonsOf(cells: readonly (number | string | undefined)[]): string[] {
  return [...new Set(cells.map((cell) => String(cell ?? "blank")))];
}

function marks(
  cells: readonly (number | string | undefined)[],
  reasons: readonly string[],
  isPresent: (cell: number | string | undefined) => boolean,
): Uint8Array {
  return Uint8Array.from(cells, (cell) =>
    isPresent(cell) ? 0 : 1 + reasons.indexOf(String(cell ?? "blank")),
  );
}
