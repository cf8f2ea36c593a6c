import type { ClearedCell } from "../cleared.ts";
import type { HeldExhibit } from "./held-report.ts";

/** What the numbers beneath a curve are called in the name of their place. */
export type LandmarkRow = "atRisk" | "events" | "censored" | "competing";

interface Rows {
  readonly columns: readonly { readonly id: string; readonly label: string }[];
  readonly rows: readonly { readonly label: string; readonly heading?: boolean; readonly indent?: number }[];
}

/** Names of the rows of a table, by the labels above them; undefined where two rows have one name. */
export function rowNames({ rows }: Rows): (string | undefined)[] {
  let above: { label: string; depth: number }[] = [];
  const names = rows.map(({ label, heading = false, indent = 0 }) => {
    const depth = heading ? -1 : indent;
    above = [...above.filter((row) => row.depth < depth), { label, depth }];
    return JSON.stringify(above.map((row) => row.label));
  });
  return names.map((name, at) =>
    names.indexOf(name) === at && names.lastIndexOf(name) === at ? name : undefined,
  );
}

/** Column 0 heads the row labels and has no cell. Ids say which place a column has, labels what it is of. */
export function cellPlace(row: string | undefined, { columns }: Rows, at: number): string | undefined {
  const column = columns[at + 1];
  if (row === undefined || column === undefined) return undefined;
  const isAlone = columns.filter(({ label }) => label === column.label).length === 1;
  return isAlone ? JSON.stringify([row, columns[0]?.label, column.id, column.label]) : undefined;
}

export function landmarkPlace(label: string, row: LandmarkRow, year: number): string {
  return `${label} | ${row} | ${year}`;
}

/** Boxes, what is taken out of them, and groups are of one kind each. */
export function flowPlace(kind: "box" | "out" | "group", label: string, what: "units" | "persons"): string {
  return `${kind} ${label} | ${what}`;
}

/** Every cell of an exhibit by the name of its place. */
export function cellsByPlace(exhibit: HeldExhibit): Map<string, ClearedCell> {
  switch (exhibit.kind) {
    case "table": {
      const names = rowNames(exhibit);
      return new Map(
        exhibit.rows.flatMap(({ cells }, row) =>
          cells.flatMap((cell, at) => {
            const place = cellPlace(names[row], exhibit, at);
            return place === undefined ? [] : [[place, cell] as const];
          }),
        ),
      );
    }
    case "curves":
      return new Map(
        exhibit.landmarks.flatMap(({ label, ...rows }) =>
          (["atRisk", "events", "censored", "competing"] as const).flatMap((row) =>
            (rows[row] ?? []).map(
              (cell, at) => [landmarkPlace(label, row, exhibit.years[at] ?? 0), cell] as const,
            ),
          ),
        ),
      );
    case "flow": {
      const sized = (kind: "box" | "out" | "group", { label, units, persons }: Sized) => [
        [flowPlace(kind, label, "units"), units] as const,
        ...(persons === undefined ? [] : [[flowPlace(kind, label, "persons"), persons] as const]),
      ];
      return new Map([
        ...exhibit.boxes.flatMap((box) => [
          ...sized("box", box),
          ...box.removed.flatMap((out) => sized("out", out)),
        ]),
        ...exhibit.groups.flatMap((group) => sized("group", group)),
      ]);
    }
    case "lines":
      return new Map();
  }
}

interface Sized {
  readonly label: string;
  readonly units: ClearedCell;
  readonly persons?: ClearedCell;
}
