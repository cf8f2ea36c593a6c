import type { ClearedCell, ClearedExhibit, ClearedExhibits } from "./cleared.ts";

/** All cells of an exhibit, row by row. */
export function cellsOf(exhibit: ClearedExhibit): readonly ClearedCell[] {
  switch (exhibit.kind) {
    case "table":
      return exhibit.rows.flatMap((row) => row.cells);
    case "curves":
      return exhibit.landmarks.flatMap(({ atRisk, events, censored, competing = [] }) => [
        ...atRisk,
        ...events,
        ...censored,
        ...competing,
      ]);
    case "lines":
      return [];
    case "flow":
      return [...exhibit.boxes.flatMap((box) => [box, ...box.removed]), ...exhibit.groups].flatMap(
        ({ units, persons }) => (persons === undefined ? [units] : [units, persons]),
      );
  }
}

/** How much of a report is hidden: cells that would hold numbers, and how many of them do not. */
export function cellsHidden({ exhibits }: ClearedExhibits): {
  readonly cells: number;
  readonly hidden: number;
} {
  const withNumbers = exhibits.flatMap(cellsOf).filter((cell) => cell.hidden || cell.values.length > 0);
  return { cells: withNumbers.length, hidden: withNumbers.filter((cell) => cell.hidden).length };
}
