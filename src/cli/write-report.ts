import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { UsageError } from "../base/errors.ts";
import { resultsRecord } from "../study/making/results-record.ts";
import { type OwnFolder, writeFolder } from "./write-folder.ts";

const REPORT: OwnFolder = {
  isOurs: (folder) => existsSync(join(folder, "results.json")),
  writes: /^(index\.html|results\.json|figures\/[^/]+\.svg|tables\/[^/]+\.csv)$/,
};

/**
 * Writes the files of a report into a folder, whole or not at all.
 *
 * A former report of that folder is replaced where it was made for the same audience; one for another audience, and a folder
 * with any other file in it, are refused.
 *
 * @param folderOption the option of the command that names another folder.
 *
 * @example
 * const run = await runStudy(study, notebookSource("notebooks/my-question.ts"));
 * await writeReport("reports/my-question", reportFiles(run, disclose(run.exhibits, "committee")));
 */
export async function writeReport(
  folder: string,
  files: ReadonlyMap<string, string>,
  folderOption = "--out",
): Promise<void> {
  refuseOtherAudience(folder, files.get("results.json"), folderOption);
  await writeFolder(folder, files, { ...REPORT, option: folderOption });
}

/** Who was sent to this folder must not find another reader's numbers in it. */
function refuseOtherAudience(folder: string, results: string | undefined, folderOption: string): void {
  const former = join(folder, "results.json");
  if (results === undefined || !existsSync(former)) return;
  const [stands, wanted] = [readFileSync(former, "utf8"), results].map(
    (text) => resultsRecord(text)?.audience,
  );
  if (stands === undefined || stands === wanted) return;
  throw new UsageError(
    "other-audience",
    `${folder}: holds the report made for the audience "${stands}" and stays as it is; ` +
      `name another folder for "${wanted}" with ${folderOption}, or delete that report first`,
  );
}
