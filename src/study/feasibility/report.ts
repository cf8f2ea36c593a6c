import type { ClearedExhibits } from "../../disclosure/cleared.ts";
import type { Block, ReportPage } from "../../report/block.ts";
import { renderReport } from "../../report/render-report.ts";
import { dictionaryResults, pageFrame, provenanceBlocks, stampOf } from "../making/dictionary-page.ts";
import { exhibitBlock } from "../making/exhibit-block.ts";
import { type ReportFiles, tables } from "../making/report-files.ts";
import { type ClearedView, clearedView } from "../making/view.ts";
import { disclosureBlocks } from "../sections/disclosure-blocks.ts";
import { ruleSentences } from "./rule-sentences.ts";
import type { FeasibilityRun } from "./run-feasibility.ts";
import { VERDICTS } from "./verdict.ts";

/** The page of a run for the audience it was cleared for, its results and tables. */
export function feasibilityFiles(run: FeasibilityRun, cleared: ClearedExhibits): ReportFiles {
  const stamp = stampOf(run);
  const page = feasibilityPage(run, cleared);
  return new Map([
    ["index.html", renderReport(page)],
    ["results.json", `${JSON.stringify(results(run, page, cleared), null, 1)}\n`],
    ...tables(cleared, stamp),
  ]);
}

function feasibilityPage(run: FeasibilityRun, cleared: ClearedExhibits): ReportPage {
  const view = clearedView(cleared);
  return { ...pageFrame(run, cleared), brief: [], sections: sections(run, view) };
}

function sections(run: FeasibilityRun, view: ClearedView): (Block & { kind: "section" })[] {
  const { unit } = run.descriptor.study;
  const tablesNamed = (...ids: string[]) => ids.flatMap((id) => exhibitBlock(view.table(id), new Map()));
  const numbered = (start: string) =>
    view.all.exhibits.filter(({ id }) => id.startsWith(start)).flatMap(({ id }) => tablesNamed(id));
  const section = (id: string, title: string, blocks: Block[]) =>
    blocks.length === 0 ? [] : [{ kind: "section" as const, id, title, blocks }];
  return [
    ...section("verdicts", "What can be asked of this export", [
      { kind: "list", items: run.outcomes.map((_, at) => summary(run, at)) },
      ...numbered("verdicts-"),
      {
        kind: "caution",
        text: `A verdict looks at the number of events in all, at how large the groups are and at where a step varies. It never looks at what happened in which group, and it does not say that a comparison would be fair: groups are not assigned by chance.`,
      },
    ]),
    ...section("periods", "Early and late", numbered("periods-")),
    ...section("other", "What does not wait for revisions", tablesNamed("other-measures")),
    ...section("exposure", "Who does what", [
      ...tablesNamed("recording", "where-both", "over-time", "by-centre"),
      ...numbered("by-stratum-"),
      ...tablesNamed("together", "by-surgeon"),
    ]),
    ...section("rules", "The rules of the verdicts", [
      {
        kind: "prose",
        text: "They are tried in this order; the first that meets decides. Every threshold can be set in the plan.",
      },
      {
        kind: "list",
        items: ruleSentences(run.rules, unit.many, { hasSurgeons: run.exposure.bySurgeon !== undefined }),
      },
    ]),
    ...section("methods", "Methods and how to reproduce", [
      {
        kind: "list",
        items: [
          "Smallest ratio and events needed: Schoenfeld 1981, from the events of both groups together and the sizes of the groups; proportional hazards, nobody adjusted for. Where the larger group has the higher rate and the ratio is 2 or more it promises too much.",
          `Years needed and risks: constant hazards of the outcome and of what comes before it, ${unit.many} coming in evenly.`,
          "Means and proportions: normal approximation.",
        ],
      },
      ...disclosureBlocks(view, " Surgeons are counted, never named."),
      ...provenanceBlocks(run, "feasibility", view.all),
    ]),
  ];
}

/** "Revision for any reason: 4 steps can be compared, …": how the verdicts fall, no counts of knees. */
function summary({ outcomes }: FeasibilityRun, at: number): string {
  const { asked, questions } = outcomes[at] ?? {};
  const kinds = Object.keys(VERDICTS) as (keyof typeof VERDICTS)[];
  const parts = kinds.flatMap((kind) => {
    const found = (questions ?? []).filter(({ verdict }) => verdict.kind === kind);
    const names = found.map(({ title }) => title).join(", ");
    return found.length === 0 ? [] : [`${VERDICTS[kind]}${kind === "within" ? " limits" : ""}: ${names}`];
  });
  const label = asked?.endpoint.event.label ?? "";
  return `${label.slice(0, 1).toUpperCase()}${label.slice(1)} – ${parts.join("; ")}.`;
}

function results(run: FeasibilityRun, page: ReportPage, cleared: ClearedExhibits) {
  return dictionaryResults(run, page, cleared, {
    settings: {
      rules: run.rules,
      plannedComparisons: run.comparisons,
      level: run.level,
      outcomes: run.outcomes.map(({ asked }) => asked),
    },
    verdicts: run.outcomes.map(({ asked, questions }) => ({
      outcome: asked.endpoint.event.label,
      steps: questions.map(({ title, verdict }) => ({
        step: title,
        verdict: verdict.kind,
        words: verdict.words,
      })),
    })),
  });
}
