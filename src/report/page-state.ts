/** What has been given out on one page so far: ids are unique, figures and tables are numbered in order. */
export interface PageState {
  readonly stamp: string | undefined;
  uniqueId(wish: string): string;
  nextNumber(kind: "Figure" | "Table"): number;
  /** Where an exhibit was drawn first, once it was. */
  firstDrawing(exhibit: string): Drawing | undefined;
  noteDrawing(exhibit: string, drawing: Drawing): void;
}

/** "Figure 2", and the id to go to. */
export interface Drawing {
  readonly name: string;
  readonly id: string;
}

export function pageState(stamp: string | undefined): PageState {
  const taken = new Set<string>();
  const numbers = { Figure: 0, Table: 0 };
  const drawings = new Map<string, Drawing>();
  return {
    stamp,
    uniqueId(wish) {
      const base = wish.replace(/[^A-Za-z0-9_-]+/g, "-");
      let id = base;
      for (let copy = 2; taken.has(id); copy += 1) id = `${base}-${copy}`;
      taken.add(id);
      return id;
    },
    nextNumber(kind) {
      numbers[kind] += 1;
      return numbers[kind];
    },
    firstDrawing: (exhibit) => drawings.get(exhibit),
    noteDrawing: (exhibit, drawing) => drawings.set(exhibit, drawing),
  };
}
