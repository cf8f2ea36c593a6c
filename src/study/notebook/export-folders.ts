import { dirname, join } from "node:path";
import { pathsOf } from "../../cases/descriptor-rules.ts";
import { loadDescriptor } from "../../cases/load-descriptor.ts";

/** Folders in which the files of an export lie: its dictionary's, and that of every table. */
export function exportFolders(descriptor: string): readonly string[] {
  const folder = dirname(descriptor);
  const tables = tablePaths(descriptor).map((path) => dirname(join(folder, path)));
  return [...new Set([folder, ...tables])].sort();
}

/** None where the dictionary cannot be used: nothing can be read before it is saved anew. */
function tablePaths(descriptor: string): readonly string[] {
  try {
    return loadDescriptor(descriptor).descriptor.resources.flatMap(({ path }) => pathsOf(path));
  } catch {
    return [];
  }
}
