import { canonicalJson } from "../../base/content-hash.ts";
import type { ExportDescriptor } from "../../cases/descriptor.ts";
import type { ClearedExhibits } from "../../disclosure/cleared.ts";
import { clearedJson } from "../../disclosure/cleared-json.ts";
import type { Block, ReportPage } from "../../report/block.ts";
import { heldItem, heldOptions } from "../held-reports/held-words.ts";
import { importedItem } from "../notebook/imported-item.ts";
import { mantleVersion } from "../notebook/mantle-version.ts";
import type { NotebookSource } from "../notebook/notebook-source.ts";
import type { RunHashes } from "../notebook/run-hashes.ts";

/** A run that asks nothing of outcomes: what its page is headed, footed and reproduced by. */
export interface DictionaryRun {
  readonly plan: { readonly id: string; readonly title: string };
  readonly notebook: NotebookSource;
  readonly descriptor: ExportDescriptor;
  readonly hashes: RunHashes;
}

/** Head and foot of the page. */
export function pageFrame(
  run: DictionaryRun,
  { audience }: ClearedExhibits,
): Pick<ReportPage, "title" | "subtitle" | "stamp" | "footer"> {
  const { study, title } = run.descriptor;
  const stamp = stampOf(run);
  return {
    title: run.plan.title,
    subtitle: [title, study.dataCut === undefined ? "" : `data to ${study.dataCut}`]
      .filter((part) => part !== "")
      .join("; "),
    ...(stamp === undefined ? {} : { stamp }),
    footer: [
      `Mantle ${mantleVersion()}. Audience: ${audience}. ${study.dataCut === undefined ? "" : `Data cut ${study.dataCut}. `}Plan ${run.hashes.plan.slice(0, 12)}, export ${run.hashes.export.slice(0, 12)}.`,
    ],
  };
}

/** What invented data are stamped with. */
export function stampOf({ descriptor: { study } }: DictionaryRun): string | undefined {
  return study.invented ? (study.stamp ?? "Invented data") : undefined;
}

/** Command, hashes, notebook and plan: all that is needed to make the page again. */
export function provenanceBlocks(run: DictionaryRun, command: string, cleared: ClearedExhibits): Block[] {
  const { hashes, notebook } = run;
  const { audience } = cleared;
  return [
    {
      kind: "facts",
      items: [
        { term: "Command", text: commandOf(notebook, command, cleared) },
        { term: "Export", text: `SHA-256 ${hashes.export}` },
        { term: "Descriptor", text: `SHA-256 ${hashes.descriptor}` },
        { term: "Plan", text: `SHA-256 ${hashes.plan}` },
        { term: "Notebook's text", text: `SHA-256 ${hashes.notebook}` },
        ...importedItem(notebook),
        { term: "Mantle", text: `${mantleVersion()}, lock file SHA-256 ${hashes.lock}` },
        { term: "Audience", text: audience },
        ...heldItem(cleared),
      ],
    },
    ...(notebook.source === ""
      ? []
      : [{ kind: "folded" as const, title: `Notebook: ${notebook.fileName}`, text: notebook.source }]),
    { kind: "folded", title: "The plan as data", text: canonicalJson(run.plan) },
  ];
}

/** Paths of exports are not told: they belong to a machine. */
function commandOf(notebook: NotebookSource, command: string, cleared: ClearedExhibits): string {
  const { audience } = cleared;
  const reader = `${audience === "committee" ? "" : ` --audience ${audience}`}${heldOptions(cleared)}`;
  if (notebook.source === "")
    return `npx mantle ${command} (the export below, asked as the plan says)${reader}`;
  return `npx mantle report notebooks/${notebook.fileName}${reader} (with --export where the export below lies elsewhere)`;
}

/** What results.json says of such a run, with `more` of its own before the exhibits. */
export function dictionaryResults(
  run: DictionaryRun,
  page: ReportPage,
  cleared: ClearedExhibits,
  more: Readonly<Record<string, unknown>>,
) {
  return {
    mantle: mantleVersion(),
    id: run.plan.id,
    title: page.title,
    subtitle: page.subtitle,
    ...(page.stamp === undefined ? {} : { stamp: page.stamp }),
    hashes: run.hashes,
    imported: run.notebook.imported ?? [],
    plan: run.plan,
    ...more,
    ...clearedJson(cleared),
  };
}
