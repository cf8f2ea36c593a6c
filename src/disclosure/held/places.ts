import type { ClearedCell } from "../cleared.ts";
import type { HeldExhibit } from "./held-report.ts";

/** What the numbers beneath a curve are called in the name of their place. */
export type LandmarkRow = "atRisk" | "events" | "censored" | "competing";

interface Rows {
  readonly columns: readonly { readonly id: string }[];
  readonly rows: readonly { readonly label: string; readonly heading?: boolean }[];
}

/** Names of the rows of a table, by heading and label; rows of one name are told apart by their order. */
export function rowNames({ rows }: Rows): string[] {
  const seen = new Map<string, number>();
  let above = "";
  return rows.map(({ label, heading = false }) => {
    if (heading) above = label;
    const name = `${heading ? "" : `${above} › `}${label}`;
    const times = (seen.get(name) ?? 0) + 1;
    seen.set(name, times);
    return times === 1 ? name : `${name} (${times})`;
  });
}

/** Column 0 heads the row labels and has no cell. */
export function cellPlace(row: string, { columns }: Rows, at: number): string {
  return `${row} | ${columns[at + 1]?.id ?? at}`;
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
          cells.map((cell, at) => [cellPlace(names[row] ?? "", exhibit, at), cell] as const),
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
