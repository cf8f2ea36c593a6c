import { UsageError } from "../../base/errors.ts";
import { isRecord } from "../../base/is-record.ts";
import { compareReports, type ReportFolder } from "../../study/comparing/compare-reports.ts";
import { audienceNamed, makeReport } from "../../study/making/make-report.ts";
import { resultsRecord } from "../../study/making/results-record.ts";
import { differenceLines } from "../difference-lines.ts";
import { EXIT } from "../exit-codes.ts";
import { readHeldReports } from "../held-folders.ts";
import { progress } from "../progress.ts";
import { readReportFolder } from "../read-report-folder.ts";

/** Makes a report again from its notebook and export, and says whether every file has the same bytes. */
export async function verify(
  folder: string,
  options: {
    readonly notebook: string;
    readonly export?: string;
    readonly readersHold?: readonly string[];
  },
): Promise<number> {
  const report = readReportFolder(folder);
  const audience = audienceNamed(audienceOf(folder, report));
  refuseUnnamed(folder, report, options.readersHold);
  const readersHold = readHeldReports(options.readersHold);
  const said = progress();
  said.step(`making ${folder} again`);
  const { files } = await makeReport(options.notebook, audience, { export: options.export, readersHold });
  said.done("");
  const again = new Map([...files].map(([path, text]) => [path, new TextEncoder().encode(text)]));
  const differences = compareReports(report, again);
  if (differences.length === 0) {
    console.log(`Same: all ${again.size} files of the report come out again, byte for byte.`);
    return EXIT.ok;
  }
  console.log("The report does not come out again as it is (report → made again).");
  for (const line of differenceLines(differences)) console.log(line);
  return EXIT.no;
}

/** What was hidden depends on what the readers held: without it the report cannot come out again. */
function refuseUnnamed(folder: string, report: ReportFolder, held: readonly string[] = []): void {
  const named = resultsOf(report)?.readersHold;
  const wanted = Array.isArray(named) ? named.filter(isRecord) : [];
  if (held.length === wanted.length) return;
  const words = wanted.map(({ id, hash }) => `${id} (SHA-256 ${String(hash).slice(0, 12)}…)`).join(", ");
  throw new UsageError(
    "held-not-named",
    wanted.length === 0
      ? `${folder}: was made without reports that its readers hold; leave --readers-hold out`
      : `${folder}: was made for readers who hold ${words}; name each folder with --readers-hold, in this order`,
  );
}

function resultsOf(report: ReportFolder) {
  return resultsRecord(new TextDecoder().decode(report.get("results.json")));
}

function audienceOf(folder: string, report: ReportFolder): string {
  const audience = resultsOf(report)?.audience;
  if (typeof audience === "string") return audience;
  throw new UsageError(
    "no-audience",
    `${folder}: its results.json does not say for whom the report was made; give a folder that "mantle report" wrote`,
  );
}
