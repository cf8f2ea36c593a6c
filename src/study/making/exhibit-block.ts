import type { Cleared, ClearedExhibit } from "../../disclosure/cleared.ts";
import type { Block } from "../../report/block.ts";
import type { Figures } from "./section.ts";

/** The block of an exhibit with its figure, or nothing where the report has no such exhibit. */
export function exhibitBlock(exhibit: Cleared<ClearedExhibit> | undefined, figures: Figures): Block[] {
  if (exhibit === undefined) return [];
  const figure = figures.get(exhibit.id);
  return [figure === undefined ? { kind: "exhibit", exhibit } : { kind: "exhibit", exhibit, figure }];
}

/** The same with the table folded beneath its picture, and with it the notes on rows that are not drawn. */
export function picturedBlock(
  exhibit: Cleared<ClearedExhibit> | undefined,
  figures: Figures,
  tableNotes: readonly string[] = [],
): Block[] {
  return exhibitBlock(exhibit, figures).map((block) =>
    block.kind === "exhibit" && block.figure !== undefined ? { ...block, foldTable: { tableNotes } } : block,
  );
}
