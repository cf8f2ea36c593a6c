import { findingLog } from "../base/finding-log.ts";
import { caseFields } from "./descriptor-rules.ts";
import type { LoadedDescriptor } from "./load-descriptor.ts";
import { openTable } from "./tables/open-table.ts";
import { wordCollector } from "./word-collector.ts";

/** The cells of described columns as they are written, by field name. */
export type WrittenCells = ReadonlyMap<string, (row: number) => string>;

/** Reads an export as text, for handing cells on unchanged. It must have been read without errors before. */
export async function writtenCells(loaded: LoadedDescriptor): Promise<WrittenCells> {
  const { table } = await openTable(loaded);
  const columns = caseFields(loaded.descriptor).map(({ name }) => {
    const { take, skip, collected } = wordCollector(table.records);
    return { name, collected, taker: { position: table.header.indexOf(name), take, refuse: skip } };
  });
  await table.readCells(
    columns.map(({ taker }) => taker),
    findingLog(),
  );
  return new Map(
    columns.map(({ name, collected }) => {
      const { words, indexOfRow } = collected();
      return [name, (row: number) => words[indexOfRow[row] ?? 0] ?? ""];
    }),
  );
}
