import {
  appendFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { basename, dirname, join, relative, sep } from "node:path";
import { setImmediate as nextTurn } from "node:timers/promises";
import { UsageError } from "../base/errors.ts";
import { EXIT } from "./exit-codes.ts";

/** What to write: path inside the folder → content, whole or in pieces. */
export type FileContents = ReadonlyMap<string, string | Iterable<string>>;

/** How a command knows a folder that it wrote before. */
export interface OwnFolder {
  readonly isOurs: (folder: string) => boolean;
  /** Paths inside it that the command writes, with "/" between folders. Nothing else is ever removed. */
  readonly writes: RegExp;
  /** Option of the command that names another folder. Default "--out". */
  readonly option?: string;
}

/** What a file browser leaves behind in a folder that somebody looked at. */
const BROWSER_TRACES = /(^|\/)(\.DS_Store|Thumbs\.db|desktop\.ini)$/;

/**
 * Replaces a folder by new files, whole or not at all.
 *
 * Everything is written beside the old folder first; then the two change places in one go. An interrupted run leaves the
 * old folder as it was and nothing beside it.
 *
 * @throws UsageError `not-ours` where the folder exists and holds anything this command does not write: nobody's files are wiped out.
 */
export async function writeFolder(folder: string, files: FileContents, own: OwnFolder): Promise<void> {
  refuseOthersFiles(folder, own);
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
    throw aboutFolder(error, folder);
  } finally {
    process.off("SIGINT", stop);
    process.off("SIGTERM", stop);
  }
}

function refuseOthersFiles(folder: string, own: OwnFolder): void {
  if (!existsSync(folder)) return;
  const { option = "--out" } = own;
  if (!statSync(folder).isDirectory()) {
    throw new UsageError("not-ours", `${folder}: is a file, not a folder; name a folder with ${option}`);
  }
  const files = filesIn(folder);
  if (files.length === 0) return;
  if (!own.isOurs(folder)) {
    throw new UsageError(
      "not-ours",
      `${folder}: holds files that this command did not write (${files[0]}) and stays as it is; ` +
        `name a new folder with ${option}, or empty this one`,
    );
  }
  const other = files.find((path) => !own.writes.test(path) && !BROWSER_TRACES.test(path));
  if (other === undefined) return;
  throw new UsageError(
    "not-ours",
    `${folder}: would be replaced, but holds ${other}, which this command did not write, and stays as it is; ` +
      `move that file elsewhere, or name a new folder with ${option}`,
  );
}

/** Everything that is no plain folder, so that a link counts as the file it would be lost as. */
function filesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => !entry.isDirectory())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join("/"))
    .sort();
}

/** The person named this folder, not the one beside it. */
function aboutFolder(error: unknown, folder: string): unknown {
  return error instanceof Error && "syscall" in error ? Object.assign(error, { path: folder }) : error;
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
