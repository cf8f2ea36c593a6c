import type { NotebookSource } from "./notebook-source.ts";

/** What a report says of the files that its notebook imports: nothing where there are none. */
export function importedItem({
  imported = [],
}: NotebookSource): readonly { readonly term: string; readonly text: string }[] {
  if (imported.length === 0) return [];
  const files = imported.map(({ file, hash }) => `${file}, SHA-256 ${hash}`).join("; ");
  return [{ term: "Imported by the notebook (hashed, not printed)", text: files }];
}
