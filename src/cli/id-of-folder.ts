import { basename, resolve } from "node:path";

/** A plan's id has few signs; a folder's name may have any. */
export function idOfFolder(folder: string, otherwise: string): string {
  const id = basename(resolve(folder))
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "");
  return id === "" ? otherwise : id;
}
