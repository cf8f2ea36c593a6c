import type { ReportPage } from "../../report/block.ts";
import { type StudyFacts, safeFacts } from "../facts.ts";
import { briefBlocks } from "../sections/brief.ts";
import { methods } from "../sections/methods.ts";
import { SECTIONS } from "../sections/sections.ts";
import type { OwnSection } from "./own-section.ts";
import type { Figures } from "./section.ts";
import type { ClearedView } from "./view.ts";

/** The page of a study: the committee's brief, then every section. */
export function reportPage(
  facts: StudyFacts,
  view: ClearedView,
  figures: Figures,
  own: readonly OwnSection[] = [],
): ReportPage {
  const { study } = facts.descriptor;
  return {
    title: facts.plan.title,
    subtitle: [facts.descriptor.title, study.dataCut === undefined ? "" : `data to ${study.dataCut}`]
      .filter((part) => part !== "")
      .join("; "),
    ...(facts.stamp === undefined ? {} : { stamp: facts.stamp }),
    brief: briefBlocks(view, facts, figures),
    sections: SECTIONS.flatMap((section) => [
      ...(section === methods ? own.map((one) => ownSection(one, facts, view, figures)) : []),
      {
        kind: "section" as const,
        id: section.id,
        title: section.title(facts),
        blocks: section.blocks(view, facts, figures),
      },
      // A section whose exhibits are for analysts alone is not there for others.
    ]).filter(({ blocks }) => blocks.length > 0),
    footer: [
      `Mantle ${facts.mantleVersion}. Audience: ${view.all.audience}. ${study.dataCut === undefined ? "" : `Data cut ${study.dataCut}. `}Plan ${facts.hashes.plan.slice(0, 12)}, export ${facts.hashes.export.slice(0, 12)}.`,
      "A later report with another data cut or plan takes this one's place.",
    ],
  };
}

/** A reader must be able to tell what the package answers for from what the notebook's author wrote. */
function ownSection(own: OwnSection, facts: StudyFacts, view: ClearedView, figures: Figures) {
  const blocks = own.blocks(view, figures, safeFacts(facts));
  const note = "This section was written in the notebook; its words are its author's.";
  return {
    kind: "section" as const,
    id: own.id,
    title: own.title,
    blocks: blocks.length === 0 ? [] : [...blocks, { kind: "prose" as const, text: note }],
  };
}
