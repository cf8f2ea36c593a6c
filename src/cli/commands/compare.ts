import { bothTogether } from "../../study/comparing/both-together.ts";
import { compareReports, type ReportFolder } from "../../study/comparing/compare-reports.ts";
import { resultsRecord } from "../../study/making/results-record.ts";
import { differenceLines } from "../difference-lines.ts";
import { EXIT } from "../exit-codes.ts";
import { readReportFolder } from "../read-report-folder.ts";

/** Says whether two report folders are the same, byte for byte, and if not, what differs and why; of two questions only that. First, whether the same readers may hold both. */
export async function compare(
  first: string,
  second: string,
  { all = false }: { readonly all?: boolean } = {},
): Promise<number> {
  const [one, two] = [readReportFolder(first), readReportFolder(second)];
  const [asked, other] = [idOf(one), idOf(two)];
  for (const line of bothTogether(one, two)) console.log(line);
  if (asked !== other) {
    console.log(`Another question: ${asked} → ${other}.`);
    if (!all) {
      console.log("Compare two versions of one report, or add --all to list every difference.");
      return EXIT.no;
    }
  }
  const differences = compareReports(one, two);
  if (differences.length === 0) {
    console.log("The reports are the same.");
    return EXIT.ok;
  }
  console.log("The reports differ (first → second).");
  for (const line of differenceLines(differences)) console.log(line);
  return EXIT.no;
}

function idOf(report: ReportFolder): string {
  return String(resultsRecord(new TextDecoder().decode(report.get("results.json")))?.id ?? "unnamed");
}
