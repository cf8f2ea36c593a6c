import type { ClearedCell, ClearedExhibits } from "../../src/disclosure/cleared.ts";
import type { Cell, Count, Exhibit } from "../../src/disclosure/exhibit.ts";

/** Counts on which a cell rests, written without the code under test. */
export function countsOf(cell: Cell): readonly Count[] {
  if (cell.kind === "count") return [cell.count];
  if (cell.kind === "share") return [cell.part, cell.whole];
  return cell.kind === "text" || cell.kind === "none" ? [] : cell.restsOn;
}

/** Every cell of a table that rests on a small count, as it is shown, with the id of its table. */
export function smallCells(
  exhibits: readonly Exhibit[],
  cleared: ClearedExhibits,
): { readonly id: string; readonly shown: ClearedCell | undefined }[] {
  const isSmall = ({ units, persons = units }: Count) =>
    units > 0 && Math.min(units, persons) < cleared.threshold;
  return exhibits.flatMap((exhibit) => {
    const shown = cleared.exhibits.find(({ id }) => id === exhibit.id);
    if (exhibit.kind !== "table" || shown?.kind !== "table") return [];
    return exhibit.rows.flatMap(({ cells }, row) =>
      cells.flatMap((cell, column) =>
        countsOf(cell).some(isSmall) ? [{ id: exhibit.id, shown: shown.rows[row]?.cells[column] }] : [],
      ),
    );
  });
}
