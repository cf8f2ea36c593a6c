import { existsSync } from "node:fs";
import { join } from "node:path";
import { type OwnFolder, writeFolder } from "./write-folder.ts";

const REPORT: OwnFolder = {
  isOurs: (folder) => existsSync(join(folder, "results.json")),
  writes: /^(index\.html|results\.json|figures\/[^/]+\.svg|tables\/[^/]+\.csv)$/,
};

/**
 * Writes the files of a report into a folder, whole or not at all.
 *
 * A former report of that folder is replaced; a folder with any other file in it is refused.
 *
 * @example
 * const run = await runStudy(study, notebookSource("notebooks/my-question.ts"));
 * await writeReport("reports/my-question", reportFiles(run, disclose(run.exhibits, "committee")));
 */
export function writeReport(folder: string, files: ReadonlyMap<string, string>): Promise<void> {
  return writeFolder(folder, files, REPORT);
}
