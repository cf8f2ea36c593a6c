import { canonicalJson } from "../../base/content-hash.ts";
import type { ClearedExhibits } from "../../disclosure/cleared.ts";
import { clearedJson } from "../../disclosure/cleared-json.ts";
import type { Block, ReportPage } from "../../report/block.ts";
import { renderReport } from "../../report/render-report.ts";
import { exhibitBlock } from "../making/exhibit-block.ts";
import { type ReportFiles, tables } from "../making/report-files.ts";
import { type ClearedView, clearedView } from "../making/view.ts";
import { importedItem } from "../notebook/imported-item.ts";
import { lockFileHash, mantleVersion } from "../notebook/mantle-version.ts";
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

function stampOf({ descriptor: { study } }: FeasibilityRun): string | undefined {
  return study.invented ? (study.stamp ?? "Invented data") : undefined;
}

function feasibilityPage(run: FeasibilityRun, cleared: ClearedExhibits): ReportPage {
  const view = clearedView(cleared);
  const { study, title } = run.descriptor;
  const stamp = stampOf(run);
  return {
    title: run.plan.title,
    subtitle: [title, study.dataCut === undefined ? "" : `data to ${study.dataCut}`]
      .filter((part) => part !== "")
      .join("; "),
    ...(stamp === undefined ? {} : { stamp }),
    brief: [],
    sections: sections(run, view),
    footer: [
      `Mantle ${mantleVersion()}. Audience: ${cleared.audience}. ${study.dataCut === undefined ? "" : `Data cut ${study.dataCut}. `}Plan ${run.hashes.plan.slice(0, 12)}, export ${run.hashes.export.slice(0, 12)}.`,
    ],
  };
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
      {
        kind: "facts",
        items: [
          { term: "Command", text: command(run, view.all.audience) },
          { term: "Export", text: `SHA-256 ${run.hashes.export}` },
          { term: "Descriptor", text: `SHA-256 ${run.hashes.descriptor}` },
          { term: "Plan", text: `SHA-256 ${run.hashes.plan}` },
          { term: "Notebook's text", text: `SHA-256 ${run.hashes.notebook}` },
          ...importedItem(run.notebook),
          { term: "Mantle", text: `${mantleVersion()}, lock file SHA-256 ${lockFileHash()}` },
          { term: "Audience", text: view.all.audience },
        ],
      },
      ...(run.notebook.source === ""
        ? []
        : [
            {
              kind: "folded" as const,
              title: `Notebook: ${run.notebook.fileName}`,
              text: run.notebook.source,
            },
          ]),
      { kind: "folded", title: "The plan as data", text: canonicalJson(run.plan) },
    ]),
  ];
}

/** Paths of exports are not told: they belong to a machine. */
function command({ notebook }: FeasibilityRun, audience: string): string {
  const reader = audience === "committee" ? "" : ` --audience ${audience}`;
  if (notebook.source === "")
    return `npx mantle feasibility (the export below, asked as the plan says)${reader}`;
  return `npx mantle report notebooks/${notebook.fileName}${reader} (with --export where the export below lies elsewhere)`;
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
  return {
    mantle: mantleVersion(),
    id: run.plan.id,
    title: page.title,
    subtitle: page.subtitle,
    ...(page.stamp === undefined ? {} : { stamp: page.stamp }),
    hashes: { ...run.hashes, lock: lockFileHash() },
    imported: run.notebook.imported ?? [],
    plan: run.plan,
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
    ...clearedJson(cleared),
  };
}
