import type { ClearedExhibits } from "../../disclosure/cleared.ts";
import type { Block, ReportPage } from "../../report/block.ts";
import { renderReport } from "../../report/render-report.ts";
import { dictionaryResults, pageFrame, provenanceBlocks, stampOf } from "../making/dictionary-page.ts";
import { exhibitBlock, picturedBlock } from "../making/exhibit-block.ts";
import { drawFigures, type ReportFiles, tables } from "../making/report-files.ts";
import type { Figures } from "../making/section.ts";
import { type ClearedView, clearedView } from "../making/view.ts";
import { disclosureBlocks } from "../sections/disclosure-blocks.ts";
import { sentence } from "../words.ts";
import { adherenceBrief } from "./brief.ts";
import { adherenceFindings } from "./findings.ts";
import { READINGS } from "./reading.ts";
import type { AdherenceRun } from "./run-adherence.ts";

/** The page of a run for the audience it was cleared for, its results, figures and tables. */
export function adherenceFiles(run: AdherenceRun, cleared: ClearedExhibits): ReportFiles {
  const stamp = stampOf(run);
  const view = clearedView(cleared);
  const figures = drawFigures(cleared, stamp, adherenceFindings(view));
  const page: ReportPage = {
    ...pageFrame(run, cleared),
    brief: adherenceBrief(run, view, figures),
    sections: sections(run, view, figures),
  };
  return new Map([
    ["index.html", renderReport(page)],
    ["results.json", `${JSON.stringify(results(run, page, cleared), null, 1)}\n`],
    ...[...figures.values()].map(({ fileName, svg }): [string, string] => [`figures/${fileName}`, svg]),
    ...tables(cleared, stamp),
  ]);
}

function sections(run: AdherenceRun, view: ClearedView, figures: Figures): (Block & { kind: "section" })[] {
  const tablesNamed = (...ids: string[]) => ids.flatMap((id) => exhibitBlock(view.table(id), figures));
  const pictured = (...ids: string[]) => ids.flatMap((id) => picturedBlock(view.table(id), figures));
  const section = (id: string, title: string, blocks: readonly Block[]) =>
    blocks.length === 0 ? [] : [{ kind: "section" as const, id, title, blocks }];
  const strata = run.strata.flatMap((_, at) =>
    pictured(`by-stratum-${at + 1}-done`, `by-stratum-${at + 1}-recorded`),
  );
  return [
    ...section("looked-at", "Who was looked at", exhibitBlock(view.flow("looked-at"), figures)),
    ...section("standards", "The steps and their standards", tablesNamed("standards")),
    ...section("recording", "What was written down", tablesNamed("recording")),
    ...section("together", "All steps together", tablesNamed("together")),
    ...section("change", "Before and after", changeBlocks(run, pictured, tablesNamed)),
    ...section("over-years", "Over the years", pictured("by-year-done", "by-year-recorded")),
    ...section("where", "Where", strata),
    ...section("methods", "Methods and how to reproduce", [
      { kind: "list", items: methods(run) },
      ...disclosureBlocks(view, " Surgeons are counted, never named."),
      ...provenanceBlocks(run, "adherence", view.all),
    ]),
  ];
}

type Blocks = (...ids: string[]) => Block[];

function changeBlocks({ plan: { change } }: AdherenceRun, pictured: Blocks, tablesNamed: Blocks): Block[] {
  if (change === undefined) return [];
  return [
    {
      kind: "prose",
      text: `On ${change.on}: ${sentence(change.what)} What else changed at the same time is not known from here, and years before and after differ in more than this.`,
    },
    ...pictured("before-and-after"),
    ...tablesNamed("change"),
  ];
}

function methods({ fewestRecorded, descriptor: { study } }: AdherenceRun): string[] {
  return [
    `Looked at: every ${study.unit.one} that meets the rules of the plan, whatever became of it. Of outcomes only the day of a revision is used: what was written down after it counts as not recorded.`,
    "Shares: done over done and not done. Intervals: Wilson 1927, without correction for continuity. Differences: Newcombe 1998, method 10.",
    `The intervals speak of a practice that goes on, of which these operations are a part; the operations themselves are counted, not estimated. They take every ${study.unit.one} as independent. For the same surgeons with their habits that is on the safe side; for other surgeons, and for the two ${study.unit.many} of one ${study.person.one}, it is not.`,
    `What the records say of a standard, the first that meets: fewer than ${fewestRecorded} written down, “${READINGS.few}”; the whole interval on the right side, “${READINGS.reached}” where the interval would lie there with the worst of the unrecorded filled in, else “${READINGS.reachedIfWritten}”; the whole interval on the wrong side, “${READINGS.missed}” or “${READINGS.missedIfWritten}” likewise; else “${READINGS.chance}”.`,
  ];
}

function results(run: AdherenceRun, page: ReportPage, cleared: ClearedExhibits) {
  return dictionaryResults(run, page, cleared, {
    question: run.plan.question,
    settings: { level: run.level, fewestRecorded: run.fewestRecorded },
  });
}
