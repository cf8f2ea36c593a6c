import { existsSync, readdirSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { UsageError } from "../base/errors.ts";
import { reportIndex } from "../study/making/report-index.ts";

const OURS = '<meta name="generator" content="Mantle">';

/** Neither somebody else's page nor that of a report is written over by a list. */
export function refuseForeignIndex(folder: string): void {
  const path = join(folder, "index.html");
  if (isReport(folder)) {
    throw new UsageError(
      "out-is-a-report",
      `${folder}: is itself a report, and its page would become a list; name the folder of all reports with --out, such as ${join(folder, "..")}`,
    );
  }
  if (!existsSync(path) || readFileSync(path, "utf8").includes(OURS)) return;
  throw new UsageError(
    "not-ours",
    `${path}: is a page that this command did not write; name another folder with --out`,
  );
}

/** Lists all reports of the folder, those of earlier runs too. */
export function writeIndex(folder: string): void {
  const paths = readdirSync(folder)
    .sort()
    .map((name) => join(folder, name, "results.json"))
    .filter((path) => existsSync(path));
  const fresh = join(folder, `.index-${process.pid}`);
  writeFileSync(fresh, reportIndex(new Map(paths.map((path) => [path, readFileSync(path, "utf8")]))));
  renameSync(fresh, join(folder, "index.html"));
}

/** Where reports already have a list, a report that another command wrote beside them comes onto it. */
export function refreshIndex(folder: string): void {
  const path = join(folder, "index.html");
  if (existsSync(path) && readFileSync(path, "utf8").includes(OURS) && !isReport(folder)) writeIndex(folder);
}

function isReport(folder: string): boolean {
  return existsSync(join(folder, "results.json"));
}
