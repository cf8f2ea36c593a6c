import { existsSync, watch } from "node:fs";
import { dirname, join } from "node:path";

/** Editors write a file in several goes, and copying an export takes a while. */
const QUIET_MILLISECONDS = 150;

/**
 * Calls back once something was saved and all was quiet again.
 *
 * Folders are watched, not files: many editors put a new file in the place of the old one.
 *
 * @param files only these count of their folders.
 * @param folders in these every file counts.
 * @returns a way to stop.
 */
export function watchFiles(
  files: ReadonlySet<string>,
  folders: readonly string[],
  saved: () => void,
): () => void {
  let timer: NodeJS.Timeout | undefined;
  const later = () => {
    clearTimeout(timer);
    timer = setTimeout(saved, QUIET_MILLISECONDS);
  };
  const all = new Set([...[...files].map(dirname), ...folders]);
  const watchers = [...all].filter(existsSync).map((folder) =>
    watch(folder, (_event, name) => {
      const counts = folders.includes(folder) || name === null || files.has(join(folder, name));
      if (counts) later();
    }),
  );
  return () => {
    clearTimeout(timer);
    for (const watcher of watchers) watcher.close();
  };
}
