import type { ClearedExhibits } from "../../disclosure/cleared.ts";
import { clearedJson } from "../../disclosure/cleared-json.ts";
import type { Block, ReportPage } from "../../report/block.ts";
import { renderReport } from "../../report/render-report.ts";
import { exhibitBlock } from "../making/exhibit-block.ts";
import { drawFigures, type ReportFiles, tables } from "../making/report-files.ts";
import type { Figures } from "../making/section.ts";
import { type ClearedView, clearedView } from "../making/view.ts";
import { lockFileHash, mantleVersion } from "../notebook/mantle-version.ts";
import { disclosureBlocks } from "../sections/disclosure-blocks.ts";
import type { DataReport } from "./gather-data-report.ts";

/** The page of an examined export for the audience it was cleared for, with its results, figures and tables. */
export function dataReportFiles(report: DataReport, fileName: string, cleared: ClearedExhibits): ReportFiles {
  const stamp = stampOf(report);
  const figures = drawFigures(cleared, stamp);
  const page = dataReportPage(report, fileName, clearedView(cleared), figures);
  return new Map([
    ["index.html", renderReport(page)],
    ["results.json", `${JSON.stringify(results(report, page, cleared), null, 1)}\n`],
    ...[...figures.values()].map(({ fileName: name, svg }): [string, string] => [`figures/${name}`, svg]),
    ...tables(cleared, stamp),
  ]);
}

function stampOf({ descriptor: { study } }: DataReport): string | undefined {
  return study.invented ? (study.stamp ?? "Invented data") : undefined;
}

function dataReportPage(
  report: DataReport,
  fileName: string,
  view: ClearedView,
  figures: Figures,
): ReportPage {
  const { study, title } = report.descriptor;
  const stamp = stampOf(report);
  const cut = study.dataCut === undefined ? "" : `data to ${study.dataCut}`;
  return {
    title: "What the checks of an export found",
    subtitle: [title, cut].filter((part) => part !== "").join("; "),
    ...(stamp === undefined ? {} : { stamp }),
    brief: [],
    sections: sections(report, fileName, view, figures),
    footer: [
      `Mantle ${mantleVersion()}. Audience: ${view.all.audience}. ${cut === "" ? "" : `Data cut ${study.dataCut}. `}Dictionary ${report.hashes.descriptor.slice(0, 12)}${report.hashes.export === undefined ? "" : `, export ${report.hashes.export.slice(0, 12)}`}.`,
    ],
  };
}

function sections(
  report: DataReport,
  fileName: string,
  view: ClearedView,
  figures: Figures,
): (Block & { kind: "section" })[] {
  const shown = (...ids: string[]) => ids.flatMap((id) => exhibitBlock(view.table(id), figures));
  const section = (id: string, title: string, blocks: Block[]) =>
    blocks.length === 0 ? [] : [{ kind: "section" as const, id, title, blocks }];
  const { followed } = report;
  return [
    ...section("found", "What was found", [...verdict(report, view), ...shown("findings")]),
    ...section("cells", "How it was read", shown("fields")),
    ...section(
      "completeness",
      "What is filled in, when and where",
      shown("completeness-by-year", "completeness-by-centre"),
    ),
    ...section("follow-up", "To which day follow-up is known", [
      ...(followed.computed
        ? []
        : [{ kind: "caution" as const, text: `Follow-up cannot be told: ${followed.because}.` }]),
      ...shown("follow-up-completeness", "ledger"),
    ]),
    ...section("reasons", "Why knees were revised", shown("reasons", "components")),
    ...section("linkage", "Second tables", shown("linkage")),
    ...section("persons", "Who could be found in it", shown("combinations")),
    ...section("heaping", "Round values", shown("heaping")),
    ...section("dictionary", "The dictionary", shown("dictionary")),
    ...section("methods", "How to make this page again", [
      ...disclosureBlocks(view, " Rows with a finding are taken to belong to half as many persons at least."),
      { kind: "facts", items: reproduction(report, fileName, view) },
    ]),
  ];
}

/** One sentence at the top: can it be analysed? From the headings of the cleared table alone. */
function verdict({ isTable }: DataReport, view: ClearedView): Block[] {
  const headings = (view.table("findings")?.rows ?? []).filter(({ heading }) => heading);
  const hasErrors = headings.some(({ label }) => label.startsWith("Errors"));
  if (!isTable) {
    return [{ kind: "answer", text: "The export could not be read as a table. Nothing can be analysed." }];
  }
  return [
    {
      kind: "answer",
      text: hasErrors
        ? "The export was read, but holds errors. Nothing can be analysed before they are settled."
        : "The export was read without errors and can be analysed.",
    },
  ];
}

/** Paths of exports are not told: they belong to a machine. */
function reproduction({ hashes }: DataReport, fileName: string, { all }: ClearedView) {
  const reader = all.audience === "committee" ? "" : ` --audience ${all.audience}`;
  return [
    { term: "Command", text: `npx mantle check (the export below) --report FOLDER${reader}` },
    { term: "Dictionary", text: `${fileName}, SHA-256 ${hashes.descriptor}` },
    ...(hashes.export === undefined ? [] : [{ term: "Export", text: `SHA-256 ${hashes.export}` }]),
    { term: "Mantle", text: `${mantleVersion()}, lock file SHA-256 ${lockFileHash()}` },
    { term: "Audience", text: all.audience },
  ];
}

function results(report: DataReport, page: ReportPage, cleared: ClearedExhibits) {
  return {
    mantle: mantleVersion(),
    id: "data-report",
    title: page.title,
    subtitle: page.subtitle,
    ...(page.stamp === undefined ? {} : { stamp: page.stamp }),
    hashes: { ...report.hashes, lock: lockFileHash() },
    ...clearedJson(cleared),
  };
}
