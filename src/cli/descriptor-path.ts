import { existsSync, statSync } from "node:fs";
import { join } from "node:path";
import { UsageError } from "../base/errors.ts";

/**
 * The dictionary of an export that is named by its folder or by the dictionary itself.
 *
 * @throws UsageError where nothing is there, or a folder holds no dictionary.
 */
export function descriptorPath(path: string): string {
  requireThere(path);
  if (!statSync(path).isDirectory()) return path;
  const dictionary = join(path, "datapackage.json");
  if (existsSync(dictionary)) return dictionary;
  throw new UsageError(
    "no-export-in-folder",
    `${path}: holds no dictionary (datapackage.json); check the path, or have one proposed for its tables ` +
      `(.csv, .tsv, .txt, .xlsx, .parquet): mantle check ${path} --propose ${dictionary}`,
  );
}

export function requireThere(path: string): void {
  if (existsSync(path)) return;
  throw new UsageError(
    "export-not-there",
    `${path}: is not there; check the path, and name a table, a folder of tables, or a dictionary (datapackage.json)`,
  );
}
