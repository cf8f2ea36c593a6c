import { compareReports } from "../../study/compare-reports.ts";
import { differenceLines } from "../difference-lines.ts";
import { EXIT } from "../exit-codes.ts";
import { readReportFolder } from "../read-report-folder.ts";

/** Says whether two report folders are the same, byte for byte, and if not, what differs and why. */
export async function compare(first: string, second: string): Promise<number> {
  const differences = compareReports(readReportFolder(first), readReportFolder(second));
  if (differences.length === 0) {
    console.log("The reports are the same.");
    return EXIT.ok;
  }
  console.log("The reports differ (first → second).");
  for (const line of differenceLines(differences)) console.log(line);
  return EXIT.no;
}
