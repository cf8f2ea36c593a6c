import { existsSync, readFileSync, statSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { UsageError } from "../../base/errors.ts";
import { lockName } from "../locking/lock-name.ts";
import type { StudyPlan } from "../plan/plan.ts";
import { type ImportedFile, importedFiles } from "./imported-files.ts";

/** Where a plan was written down. */
export interface NotebookSource {
  /** Folder against which the plan's export is looked up. */
  readonly folder: string;
  readonly fileName: string;
  /** The notebook's own text: printed in the report, with a hash of its own. */
  readonly source: string;
  /** What it imports by a relative path, directly or not; left out where there is no file behind the text. */
  readonly imported?: readonly ImportedFile[];
  /** The lock of its plan, where one lies beside it. */
  readonly lock?: { readonly fileName: string; readonly text: string };
  /** Descriptor to use instead of the plan's, seen from the working folder. */
  readonly otherExport?: string;
}

/** Reads a notebook's text, the lock beside it, and the hashes of what it imports. */
export function notebookSource(path: string): NotebookSource {
  try {
    const [folder, fileName] = [dirname(resolve(path)), basename(path)];
    const source = readFileSync(path, "utf8");
    const read = { folder, fileName, source, imported: importedFiles(path) };
    const lock = join(folder, lockName(fileName));
    if (!existsSync(lock)) return read;
    return {
      ...read,
      lock: { fileName: basename(lock), text: readFileSync(lock, "utf8") },
    };
  } catch {
    throw new UsageError(
      "no-notebook",
      `${path}: cannot be read; give the path of a notebook such as notebooks/my-question.ts`,
    );
  }
}

/** The descriptor a plan names, seen from the notebook's folder, or the one given in its place; a folder means its datapackage.json. */
export function exportPath(plan: Pick<StudyPlan, "export">, notebook: NotebookSource): string {
  const path =
    notebook.otherExport === undefined
      ? resolve(notebook.folder, plan.export)
      : resolve(notebook.otherExport);
  return statSync(path, { throwIfNoEntry: false })?.isDirectory() ? join(path, "datapackage.json") : path;
}
