import { contentHash } from "../../base/content-hash.ts";
import type { ClearedExhibits } from "../../disclosure/cleared.ts";
import { clearedJson } from "../../disclosure/cleared-json.ts";
import { renderReport } from "../../report/render-report.ts";
import type { OwnReport } from "../notebook/define-report.ts";
import { lockFileHash, mantleVersion } from "../notebook/mantle-version.ts";
import type { NotebookSource } from "../notebook/notebook-source.ts";
import { drawFigures, type ReportFiles, tables } from "./report-files.ts";
import { clearedView } from "./view.ts";

/** The files of a report that has exhibits of its own. */
export function ownReportFiles(
  report: OwnReport,
  cleared: ClearedExhibits,
  notebook: NotebookSource,
): ReportFiles {
  const figures = drawFigures(cleared, undefined);
  const { id, title, subtitle } = report;
  const page = renderReport({
    title,
    subtitle,
    brief: [],
    sections: report.sections(clearedView(cleared), figures),
    footer: [
      `Mantle ${mantleVersion()}, lock file ${lockFileHash().slice(0, 12)}. Notebook ${notebook.fileName}.`,
    ],
  });
  const hashes = { lock: lockFileHash(), notebook: contentHash(notebook.source) };
  const results = { mantle: mantleVersion(), id, title, subtitle, hashes, ...clearedJson(cleared) };
  return new Map([
    ["index.html", page],
    ["results.json", `${JSON.stringify(results, null, 1)}\n`],
    ...[...figures.values()].map(({ fileName, svg }): [string, string] => [`figures/${fileName}`, svg]),
    ...tables(cleared, undefined),
  ]);
}
