import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { ArgumentError, UsageError } from "../../base/errors.ts";
import { planFaultsText } from "../../base/plan-fault.ts";
import { lineOfFault } from "./line-of-fault.ts";

/**
 * An error that a notebook's own text caused, in words with file and line; anything else comes back as it is.
 *
 * @param loading whether the notebook was being imported, when whatever is thrown is the notebook's doing.
 */
export function notebookFault(path: string, error: unknown, loading: boolean): unknown {
  const isWorded = error instanceof UsageError || error instanceof ArgumentError;
  if (isWorded && error.faults.length > 0) return planFault(path, error);
  if (error instanceof UsageError) return error;
  if (error instanceof ArgumentError) return new UsageError("notebook-fault", `${path}: ${error.message}`);
  const { message, place } = partsOf(path, error);
  if (!loading && place === undefined) return error;
  return new UsageError(
    "notebook-fault",
    `${place ?? path}: the notebook stops here: ${message}; correct it, then run again`,
  );
}

/** Faults of the plan, with the notebook's name and lines. */
function planFault(path: string, error: UsageError | ArgumentError): UsageError {
  const lineOf = lineOfFault(readFileSync(path, "utf8"));
  const code = error instanceof UsageError ? error.code : "notebook-fault";
  return new UsageError(code, planFaultsText(error.faults, { path, lineOf }), error.faults);
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
