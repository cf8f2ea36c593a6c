import { join, resolve } from "node:path";
import { UsageError } from "../base/errors.ts";
import { type HeldReport, heldReport } from "../study/held-reports/held-report.ts";
import { readReportFolder } from "./read-report-folder.ts";

/** The reports in these folders, which the readers of the next one hold. */
export function readHeldReports(folders: readonly string[] = []): HeldReport[] {
  return folders.map((folder) =>
    heldReport(folder, new TextDecoder().decode(readReportFolder(folder).get("results.json"))),
  );
}

/** Written over, it could not be named again: not to check the new report, and not for the next. */
export function refuseOverHeld(folder: string, held: readonly string[] = []): void {
  if (!held.some((one) => resolve(one) === resolve(folder))) return;
  throw new UsageError(
    "over-held",
    `${join(folder)}: is the report that the readers hold, and stays as it is; keep it in another folder, or write the new one elsewhere with --out`,
  );
}
