import { readdirSync, statSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { UsageError } from "../../base/errors.ts";
import { nearestWord } from "../../base/nearest-word.ts";
import { numbered } from "../../base/words.ts";

/** Endings of the files that can be tables. */
export const TABLE_FILE = /\.(csv|tsv|txt|xlsx|parquet)(\.gz)?$/i;

/**
 * Refuses tables that are not there, all at once, each with the path that was looked for and a file beside it that is called
 * nearly so. Files of other names are counted: a name may be a person's.
 *
 * @param dictionary its path.
 * @param names of the files beside it, as it gives them.
 * @throws UsageError `export-not-found`.
 */
export function requireFiles(dictionary: string, names: readonly string[]): void {
  const folder = dirname(dictionary);
  const lacking = names.filter((name) => !isFile(join(folder, name)));
  if (lacking.length === 0) return;
  const lines = lacking.map((name) => {
    const path = join(folder, name);
    return `${dictionary}: names the table "${name}", but there is no ${path}; ${besideWords(path)}`;
  });
  throw new UsageError("export-not-found", lines.join("\n"));
}

function besideWords(path: string): string {
  const tables = filesIn(dirname(path)).filter((name) => TABLE_FILE.test(name));
  const wanted = basename(path);
  const stems = tables.map(stemOf);
  const nearest =
    nearestWord(wanted, tables) ?? tables[stems.indexOf(nearestWord(stemOf(wanted), stems) ?? "")];
  if (nearest !== undefined)
    return `"${nearest}" lies there: correct the path in the dictionary, or rename the file`;
  const others =
    tables.length === 0
      ? "no table lies there"
      : `${numbered(tables.length, "table")} of ${tables.length === 1 ? "another name lies" : "other names lie"} there`;
  return `${others}; put the table there, or correct the path in the dictionary`;
}

/** A name without what says its format. */
function stemOf(name: string): string {
  return name.replace(TABLE_FILE, "");
}

function filesIn(folder: string): string[] {
  return statSync(folder, { throwIfNoEntry: false })?.isDirectory() ? readdirSync(folder).sort() : [];
}

function isFile(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isFile() === true;
}
