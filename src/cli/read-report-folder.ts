import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { join, relative, sep } from "node:path";
import { UsageError } from "../base/errors.ts";
import type { ReportFolder } from "../study/comparing/compare-reports.ts";

/** Every file of a report folder. */
export function readReportFolder(folder: string): ReportFolder {
  if (!statSync(folder, { throwIfNoEntry: false })?.isDirectory()) {
    throw new UsageError(
      "no-report",
      `${folder}: no such folder; give a report folder such as reports/my-question`,
    );
  }
  if (!existsSync(join(folder, "results.json"))) {
    throw new UsageError(
      "no-report",
      `${folder}: holds no report; give a folder with a results.json, such as reports/my-question`,
    );
  }
  const files = readdirSync(folder, { recursive: true, encoding: "utf8" })
    .map((name) => join(folder, name))
    .filter((path) => statSync(path).isFile());
  return new Map(files.map((path) => [relative(folder, path).split(sep).join("/"), readFileSync(path)]));
}
