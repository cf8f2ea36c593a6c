import { resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { ArgumentError, UsageError } from "../../base/errors.ts";

/**
 * An error that a notebook's own text caused, in words with file and line; anything else comes back as it is.
 *
 * @param loading whether the notebook was being imported, when whatever is thrown is the notebook's doing.
 */
export function notebookFault(path: string, error: unknown, loading: boolean): unknown {
  if (error instanceof UsageError) return error;
  if (error instanceof ArgumentError) return new UsageError("notebook-fault", `${path}: ${error.message}`);
  const { message, place } = partsOf(path, error);
  if (!loading && place === undefined) return error;
  return new UsageError(
    "notebook-fault",
    `${place ?? path}: the notebook stops here: ${message}; correct it, then run again`,
  );
}

/** What was said, in one line, and the first place that is the notebook's. */
function partsOf(path: string, error: unknown): { message: string; place: string | undefined } {
  if (!(error instanceof Error)) return { message: `${typeof error} thrown`, place: undefined };
  // A compiler names place and fault in one line: "file:line:column: ERROR: what".
  const compiled = /^(.+?):(\d+):\d+: ERROR: (.+)$/m.exec(error.message);
  if (compiled !== null) {
    const [, file = path, line, what = ""] = compiled;
    return { message: what, place: `${isNotebook(path, file) ? path : file}, line ${line}` };
  }
  const message = (error.message.split("\n")[0] ?? "").replace(/[.;]$/, "");
  return { message, place: firstPlace(path, error.stack ?? "") };
}

/** Only the innermost place counts: an error deeper inside is not the notebook's. */
function firstPlace(path: string, stack: string): string | undefined {
  const place = /(?:^|\(|at )((?:file:\/\/)?[^\s()]+\.[cm]?[jt]s):(\d+)/m.exec(stack);
  const [, file = "", line] = place ?? [];
  return isNotebook(path, file) ? `${path}, line ${line}` : undefined;
}

function isNotebook(path: string, file: string): boolean {
  return resolve(path) === (file.startsWith("file://") ? fileURLToPath(file) : file);
}
