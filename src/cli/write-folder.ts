import { existsSync, mkdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { setImmediate as nextTurn } from "node:timers/promises";
import { EXIT } from "./exit-codes.ts";

/** What to write: path inside the folder → content. */
export type FileContents = ReadonlyMap<string, string | Uint8Array>;

/**
 * Replaces a folder by new files, whole or not at all.
 *
 * Everything is written beside the old folder first; then the two change places in one go. An interrupted run leaves the
 * old folder as it was and nothing beside it.
 */
export async function writeFolder(folder: string, files: FileContents): Promise<void> {
  const fresh = join(dirname(folder), `.${basename(folder)}-new-${process.pid}`);
  const removeFresh = () => rmSync(fresh, { recursive: true, force: true });
  const stop = () => {
    removeFresh();
    process.exit(EXIT.interrupted);
  };
  process.once("SIGINT", stop);
  process.once("SIGTERM", stop);
  try {
    removeFresh();
    for (const [path, content] of files) {
      mkdirSync(dirname(join(fresh, path)), { recursive: true });
      writeFileSync(join(fresh, path), content);
      // Lets a pending interruption in between two files.
      await nextTurn();
    }
    exchange(folder, fresh);
  } catch (error) {
    removeFresh();
    throw error;
  } finally {
    process.off("SIGINT", stop);
    process.off("SIGTERM", stop);
  }
}

/** No turn of the event loop in between: no signal handler can see half of it. */
function exchange(folder: string, fresh: string): void {
  const old = `${fresh}-old`;
  const hadOld = existsSync(folder);
  if (hadOld) renameSync(folder, old);
  try {
    renameSync(fresh, folder);
  } catch (error) {
    if (hadOld) renameSync(old, folder);
    throw error;
  }
  rmSync(old, { recursive: true, force: true });
}
