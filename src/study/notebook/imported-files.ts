import { readFileSync, statSync } from "node:fs";
import { dirname, relative, resolve, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { contentHash } from "../../base/content-hash.ts";

/** A file that a notebook imports. Named and hashed, never printed: it may be data. */
export interface ImportedFile {
  /** Seen from the notebook's folder, with "/". */
  readonly file: string;
  /** SHA-256 of its bytes. */
  readonly hash: string;
}

/** A file named from where it is imported. Read from the text: a notebook that cannot be compiled has imports too. */
const RELATIVE_IMPORT = /(?:from|import)\s*\(?\s*["'](\.{1,2}\/[^"']+)["']/g;

/** The package's own code, which a report names by its version. */
const PACKAGE_SOURCE = fileURLToPath(new URL("../../", import.meta.url));

/**
 * What a notebook imports by a relative path, directly or not, in the order of the names. What is not there is left out,
 * and so is the package itself.
 */
export function importedFiles(notebook: string): readonly ImportedFile[] {
  const folder = dirname(resolve(notebook));
  return [...importedPaths(notebook)]
    .filter((path) => isFile(path) && !path.startsWith(PACKAGE_SOURCE))
    .map((path) => ({
      file: relative(folder, path).split(sep).join("/"),
      hash: contentHash(readFileSync(path)),
    }))
    .sort((one, two) => (one.file < two.file ? -1 : 1));
}

/** Whole paths of all that a notebook imports by a relative path, there or not, without the notebook itself. */
export function importedPaths(notebook: string): ReadonlySet<string> {
  const path = resolve(notebook);
  const found = new Set<string>();
  const waiting = [path];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    if (found.has(next)) continue;
    found.add(next);
    waiting.push(...importedBy(next));
  }
  found.delete(path);
  return found;
}

function importedBy(path: string): string[] {
  if (!isFile(path) || !/\.[cm]?[jt]s$/.test(path)) return [];
  const text = readFileSync(path, "utf8");
  return [...text.matchAll(RELATIVE_IMPORT)].map(([, file = ""]) => resolve(dirname(path), file));
}

function isFile(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isFile() === true;
}
