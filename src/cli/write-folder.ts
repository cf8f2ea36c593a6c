import {
  appendFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { basename, dirname, join } from "node:path";
import { setImmediate as nextTurn } from "node:timers/promises";
import { UsageError } from "../base/errors.ts";
import { EXIT } from "./exit-codes.ts";

/** What to write: path inside the folder → content, whole or in pieces. */
export type FileContents = ReadonlyMap<string, string | Iterable<string>>;

/**
 * Replaces a folder by new files, whole or not at all.
 *
 * Everything is written beside the old folder first; then the two change places in one go. An interrupted run leaves the
 * old folder as it was and nothing beside it.
 *
 * @throws UsageError `not-ours` where the folder exists and `isOurs` does not know it: nobody's files are wiped out.
 */
export async function writeFolder(
  folder: string,
  files: FileContents,
  isOurs: (folder: string) => boolean,
): Promise<void> {
  if (existsSync(folder) && readdirSync(folder).length > 0 && !isOurs(folder)) {
    throw new UsageError(
      "not-ours",
      `${folder}: holds files that this command did not write; name another folder`,
    );
  }
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
      writeContent(join(fresh, path), content);
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

function writeContent(path: string, content: string | Iterable<string>): void {
  const pieces = typeof content === "string" ? [content] : content;
  writeFileSync(path, "");
  for (const piece of pieces) appendFileSync(path, piece);
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
