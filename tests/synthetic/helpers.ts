import type { SyntheticExport } from "../../src/synthetic/index.ts";

/** Cells of an export by field name. No cell is quoted, so splitting is reading. */
export function cellsByField(text: string): Map<string, string[]> {
  const [head = "", ...lines] = text.trimEnd().split("\n");
  const columns = head.split(",").map((name) => [name, [] as string[]] as const);
  for (const line of lines) {
    const cells = line.split(",");
    columns.forEach(([, column], place) => {
      column.push(cells[place] ?? "");
    });
  }
  return new Map(columns);
}

export function csvText(invented: SyntheticExport): string {
  return [...invented.csvChunks()].join("");
}

export function column(columns: Map<string, string[]>, name: string): string[] {
  const cells = columns.get(name);
  if (cells === undefined) throw new Error(`no field ${name}`);
  return cells;
}

export function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Standard error of the mean of independent values. */
export function standardError(values: readonly number[]): number {
  const centre = mean(values);
  const squares = values.reduce((sum, value) => sum + (value - centre) ** 2, 0);
  return Math.sqrt(squares / (values.length - 1) / values.length);
}
