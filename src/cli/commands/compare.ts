import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { join, relative, sep } from "node:path";
import { UsageError } from "../../base/errors.ts";
import { compareReports, type ReportFolder } from "../../study/compare-reports.ts";
import { EXIT } from "../exit-codes.ts";

/** Beyond this a list explains nothing more. */
const MOST_SHOWN = 60;

/** Says whether two report folders are the same, byte for byte, and if not, what differs. */
export async function compare(first: string, second: string): Promise<number> {
  const differences = compareReports(readFolder(first), readFolder(second));
  if (differences.length === 0) {
    console.log("The reports are the same.");
    return EXIT.ok;
  }
  for (const { path, what } of differences.slice(0, MOST_SHOWN)) console.log(`${path}: ${what}`);
  if (differences.length > MOST_SHOWN) console.log(`… and ${differences.length - MOST_SHOWN} more.`);
  return EXIT.no;
}

function readFolder(folder: string): ReportFolder {
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
