import { basename, dirname, join, resolve } from "node:path";
import { lockName } from "../../study/locking/lock-name.ts";
import { importedPaths } from "../../study/notebook/imported-files.ts";

/** A notebook, its lock, and every file it imports, directly or not, as whole paths. */
export function notebookFiles(notebook: string): ReadonlySet<string> {
  const path = resolve(notebook);
  return new Set([join(dirname(path), lockName(basename(path))), path, ...importedPaths(path)]);
}
