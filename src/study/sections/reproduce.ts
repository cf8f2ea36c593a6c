import { canonicalJson } from "../../base/content-hash.ts";
import type { ClearedExhibits } from "../../disclosure/cleared.ts";
import type { Block } from "../../report/block.ts";
import type { StudyFacts } from "../facts.ts";
import { heldItem, heldOptions } from "../held-reports/held-words.ts";
import { lockWords } from "../locking/lock-words.ts";
import type { Section } from "../making/section.ts";
import { importedItem } from "../notebook/imported-item.ts";

/** What a statistician needs to make the same bytes again. */
export const reproduce: Section = {
  id: "reproduce",
  title: () => "How to reproduce this report",
  exhibits: () => [],
  blocks: (view, facts) => [
    {
      kind: "facts",
      items: [
        { term: "Command", text: command(facts, view.all) },
        {
          term: "To check it",
          text: `npx mantle verify (this folder) --notebook notebooks/${facts.notebook.fileName} --export (the export below)${heldOptions(view.all)}`,
        },
        { term: "Export", text: `${facts.fileName}, SHA-256 ${facts.hashes.export}` },
        { term: "Descriptor", text: `SHA-256 ${facts.hashes.descriptor}` },
        { term: "Plan", text: `SHA-256 ${facts.hashes.plan}` },
        { term: "Notebook's text", text: `SHA-256 ${facts.hashes.notebook}` },
        ...importedItem(facts.notebook),
        ...lockWords(facts.planLock, facts.hashes.export).items,
        { term: "Mantle", text: `${facts.mantleVersion}, lock file SHA-256 ${facts.hashes.lock}` },
        { term: "Data cut", text: facts.descriptor.study.dataCut ?? "" },
        { term: "Audience", text: view.all.audience },
        ...heldItem(view.all),
        { term: "Kind of data", text: dataKind(facts) },
        ...governance(facts),
      ],
    },
    ...changesSinceLock(facts),
    {
      kind: "folded",
      title: `Notebook: ${facts.notebook.fileName}`,
      text: facts.notebook.source,
    },
    { kind: "folded", title: "The plan as data", text: canonicalJson(facts.plan) },
  ],
};

function changesSinceLock({ planLock, hashes }: StudyFacts): Block[] {
  const { changes } = lockWords(planLock, hashes.export);
  if (changes.length === 0) return [];
  return [
    { kind: "caution", text: "Changed since the plan was locked (as locked → as run):" },
    { kind: "list", items: changes },
  ];
}

/** Where the export lies belongs to a machine, so a report is the same wherever that is. */
function command({ notebook }: StudyFacts, all: ClearedExhibits): string {
  const { audience } = all;
  const reader = audience === "committee" ? "" : ` --audience ${audience}`;
  return `npx mantle report notebooks/${notebook.fileName}${reader}${heldOptions(all)} (with --export where the export below lies elsewhere)`;
}

function dataKind(facts: StudyFacts): string {
  if (facts.stamp !== undefined) return facts.stamp;
  return facts.descriptor.study.exactDates
    ? "De-identified as stated by the supplier; exact dates, so treat as personal data."
    : "De-identified as stated by the supplier.";
}

/** What was not stated prints as a blank, so that the gap is seen. */
function governance(facts: StudyFacts): (Block & { kind: "facts" })["items"] {
  const { governance } = facts.descriptor.study;
  return [
    { term: "Purpose (audit or research)", text: governance.purpose ?? "" },
    { term: "Approval or registration", text: governance.approval ?? "" },
    { term: "Legal basis", text: governance.legalBasis ?? "" },
    { term: "Retention", text: governance.retention ?? "" },
    { term: "Authors", text: governance.authors?.join(", ") ?? "" },
    { term: "Statistical reviewer", text: governance.statisticalReviewer ?? "" },
    { term: "Funding", text: governance.funding ?? "" },
    { term: "Conflicts of interest", text: governance.conflicts ?? "" },
  ];
}
