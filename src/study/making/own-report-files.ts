import { contentHash } from "../../base/content-hash.ts";
import { numbered } from "../../base/words.ts";
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
    sections: [...report.sections(clearedView(cleared), figures), reproduceSection(notebook, cleared)],
    footer: [
      `Mantle ${mantleVersion()}, lock file ${lockFileHash().slice(0, 12)}. Notebook ${notebook.fileName}.`,
    ],
  });
  const hashes = { lock: lockFileHash(), notebook: contentHash(notebook.source) };
  const results = {
    mantle: mantleVersion(),
    id,
    title,
    subtitle,
    hashes,
    imported: notebook.imported ?? [],
    ...clearedJson(cleared),
  };
  return new Map([
    ["index.html", page],
    ["results.json", `${JSON.stringify(results, null, 1)}\n`],
    ...[...figures.values()].map(({ fileName, svg }): [string, string] => [`figures/${fileName}`, svg]),
    ...tables(cleared, undefined),
  ]);
}

/** What is needed to make the same bytes again. */
function reproduceSection(notebook: NotebookSource, { audience }: ClearedExhibits) {
  const reader = audience === "committee" ? "" : ` --audience ${audience}`;
  const { imported = [] } = notebook;
  const files = imported.map(({ file, hash }) => `${hash}  ${file}`).join("\n");
  return {
    kind: "section" as const,
    id: "reproduce",
    title: "How to reproduce this report",
    blocks: [
      {
        kind: "facts" as const,
        items: [
          { term: "Command", text: `npx mantle report notebooks/${notebook.fileName}${reader}` },
          { term: "Notebook's text", text: `SHA-256 ${contentHash(notebook.source)}` },
          { term: "Mantle", text: `${mantleVersion()}, lock file SHA-256 ${lockFileHash()}` },
        ],
      },
      ...(imported.length === 0
        ? []
        : [
            {
              kind: "folded" as const,
              title: `Imported by the notebook: ${numbered(imported.length, "file")}, each with its SHA-256`,
              text: files,
            },
          ]),
    ],
  };
}
