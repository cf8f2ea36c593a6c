import { audienceNamed, makeReport } from "../../study/making/make-report.ts";
import { exportFolders } from "../../study/notebook/export-folders.ts";
import { loadNotebook } from "../../study/notebook/load-notebook.ts";
import { exportPath } from "../../study/notebook/notebook-source.ts";
import { failureWords } from "../failure-words.ts";
import type { ChildMessage } from "./run-in-child.ts";

const [notebook = "", audience = "", otherExport] = process.argv.slice(2);

try {
  await tellExport();
  const { files } = await makeReport(notebook, audienceNamed(audience), { export: otherExport });
  await tell({ kind: "made", files: [...files] });
} catch (error) {
  await tell({ kind: "failed", words: failureWords(error, process.env.MANTLE_TRACE === "1") });
}
// The command may have ended meanwhile.
if (process.connected) process.disconnect();

/** Where the export lies, before any table is read: an export that cannot be used is watched too. */
async function tellExport(): Promise<void> {
  const { declared, source } = await loadNotebook(notebook);
  if (declared.kind === "report") return;
  const named = otherExport === undefined ? source : { ...source, otherExport };
  await tell({ kind: "reads", folders: exportFolders(exportPath(declared.plan, named)) });
}

function tell(message: ChildMessage): Promise<void> {
  return new Promise((resolve) => {
    process.send?.(message, () => resolve());
  });
}
