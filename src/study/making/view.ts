import type {
  Cleared,
  ClearedCell,
  ClearedCurves,
  ClearedExhibit,
  ClearedExhibits,
  ClearedFlow,
  ClearedLines,
  ClearedTable,
} from "../../disclosure/cleared.ts";

/** The cleared exhibits by name: all that the words of a report may draw on. */
export interface ClearedView {
  readonly all: ClearedExhibits;
  table(id: string): Cleared<ClearedTable> | undefined;
  curves(id: string): Cleared<ClearedCurves> | undefined;
  flow(id: string): Cleared<ClearedFlow> | undefined;
  lines(id: string): Cleared<ClearedLines> | undefined;
  /** Cell of a table by row label and column id. */
  cell(table: string, row: string, column: string): ClearedCell | undefined;
}

export function clearedView(all: ClearedExhibits): ClearedView {
  const byId = new Map(all.exhibits.map((exhibit) => [exhibit.id, exhibit]));
  const ofKind = <Kind extends ClearedExhibit["kind"]>(id: string, kind: Kind) => {
    const exhibit = byId.get(id);
    // The kind was just compared, which the compiler cannot carry through the brand.
    return exhibit?.kind === kind ? (exhibit as Cleared<Extract<ClearedExhibit, { kind: Kind }>>) : undefined;
  };
  return {
    all,
    table: (id) => ofKind(id, "table"),
    curves: (id) => ofKind(id, "curves"),
    flow: (id) => ofKind(id, "flow"),
    lines: (id) => ofKind(id, "lines"),
    cell(table, row, column) {
      const exhibit = ofKind(table, "table");
      // Column 0 heads the row labels and has no cell.
      const at = (exhibit?.columns.findIndex(({ id }) => id === column) ?? 0) - 1;
      return at < 0 ? undefined : exhibit?.rows.find(({ label }) => label === row)?.cells[at];
    },
  };
}
