import { spawnSync } from "node:child_process";
import { join } from "node:path";

/** What a script of R answered. Not finishing in time is an answer, too. */
export type RAnswer =
  | { readonly finished: true; readonly seconds: number; readonly megabytes: number; readonly answer: number }
  | { readonly finished: false; readonly reason: string };

export const R_SECONDS = 120;

/** The version line of R, or undefined where Rscript is not installed. */
export function versionOfR(): string | undefined {
  const { status, stdout, stderr } = spawnSync("Rscript", ["--version"], { encoding: "utf8" });
  return status === 0 ? (stdout || stderr).trim() : undefined;
}

/** Runs a script of scripts/ on a folder of data. R has 120 seconds, its start and its reading of columns included. */
export function runInR(script: string, folder: string): RAnswer {
  const { status, stdout, error } = spawnSync(
    "Rscript",
    ["--vanilla", join(import.meta.dirname, "scripts", script), folder],
    { encoding: "utf8", timeout: R_SECONDS * 1000, stdio: ["ignore", "pipe", "pipe"] },
  );
  if (error !== undefined && "code" in error && error.code === "ETIMEDOUT")
    return { finished: false, reason: "did not finish" };
  if (status !== 0) return { finished: false, reason: "failed (a package is missing?)" };
  return { finished: true, ...JSON.parse(stdout) };
}
