import { ArgumentError, UsageError } from "../base/errors.ts";

/** What the file system refuses, and what to do about it. */
const FILE_FAILURES: Readonly<Record<string, string>> = {
  EACCES: "may not be read or written by you; change its permissions or name another place",
  EPERM: "may not be read or written by you; change its permissions or name another place",
  EROFS: "lies on a disk that cannot be written to; name another place",
  ENOSPC: "could not be written because the disk is full; make room or name another place",
  EDQUOT: "could not be written because your share of the disk is used up; make room or name another place",
  ENOENT: "is not there; check the path",
  ENOTDIR: "cannot be reached because a part of this path is a file and no folder; check the path",
  EEXIST: "is a file where a folder is needed; move it or name another place",
  EISDIR: "is a folder where a file is needed; check the path",
  EBUSY: "is in use by another program; close it there, then run again",
  EMFILE: "could not be opened because too many files are open; close other programs, then run again",
};

/**
 * An error in the words of the person at the keyboard: where, what is wrong, what to do.
 *
 * Only what nobody foresaw is called a fault in Mantle; its trace is printed where it is asked for.
 */
export function failureWords(error: unknown, withTrace: boolean): string {
  const words = knownFailure(error) ?? unknownFailure(error, withTrace);
  return withTrace && error instanceof Error ? `${words}\n${error.stack ?? ""}` : words;
}

function knownFailure(error: unknown): string | undefined {
  if (error instanceof UsageError || error instanceof ArgumentError) return error.message;
  if (!(error instanceof Error) || !("code" in error) || !("syscall" in error)) return undefined;
  const advice = FILE_FAILURES[String(error.code)];
  if (advice === undefined) return undefined;
  // Writing to an open file names no path.
  const place = "path" in error && typeof error.path === "string" ? error.path : "a file";
  return `${place}: ${advice}`;
}

function unknownFailure(error: unknown, withTrace: boolean): string {
  const message = error instanceof Error ? error.message : String(error);
  const advice = withTrace ? "" : "\nTo see where it happened, run it again with MANTLE_TRACE=1 set.";
  return `This is a fault in Mantle: ${message}${advice}`;
}
