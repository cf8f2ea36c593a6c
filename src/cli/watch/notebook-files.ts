import { existsSync, readFileSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { lockName } from "../../study/locking/lock-name.ts";

/** A file named from where it is imported. Read from the text: a notebook that cannot be compiled has imports too. */
const RELATIVE_IMPORT = /(?:from|import)\s*\(?\s*["'](\.{1,2}\/[^"']+)["']/g;

/** A notebook, its lock, and every file it imports, directly or not, as whole paths. */
export function notebookFiles(notebook: string): ReadonlySet<string> {
  const path = resolve(notebook);
  const found = new Set([join(dirname(path), lockName(basename(path)))]);
  const waiting = [path];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    if (found.has(next)) continue;
    found.add(next);
    waiting.push(...importedBy(next));
  }
  return found;
}

function importedBy(path: string): string[] {
  if (!existsSync(path) || !/\.[cm]?[jt]s$/.test(path)) return [];
  const text = readFileSync(path, "utf8");
  return [...text.matchAll(RELATIVE_IMPORT)].map(([, file = ""]) => resolve(dirname(path), file));
}
