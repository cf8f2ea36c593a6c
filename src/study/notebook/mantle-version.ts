import { existsSync, readFileSync } from "node:fs";
import { contentHash } from "../../base/content-hash.ts";

const ROOT = new URL("../../../", import.meta.url);

/** Version of the package that made a report. */
export function mantleVersion(): string {
  // package.json is ours and always has a version.
  return (JSON.parse(readFileSync(new URL("package.json", ROOT), "utf8")) as { version: string }).version;
}

/** SHA-256 of the lock file, or a statement that the package was installed without one. */
export function lockFileHash(): string {
  const lock = new URL("package-lock.json", ROOT);
  return existsSync(lock) ? contentHash(readFileSync(lock)) : "none (installed as a package)";
}
