import { capital } from "../../../base/words.ts";
import type { Count, Relation, TableExhibit } from "../../../disclosure/exhibit.ts";
import { keyPart } from "../../../disclosure/key-part.ts";
import type { Block } from "../../../report/block.ts";
import { exhibitBlock } from "../../making/exhibit-block.ts";
import { countCell, keys, sized } from "../../sections/cells.ts";
import type { PoolEstimates } from "../pool-estimate.ts";
import type { PoolFacts } from "../pool-facts.ts";
import type { PoolSection } from "../pool-section.ts";
import { sizeOfUnits } from "../pool-sizes.ts";
import { shortHash } from "../short-hash.ts";

/** Who sent what: cases of every source by group, and what each says of itself. */
export const poolSources: PoolSection = {
  id: "sources",
  title: () => "Who sent what",
  exhibits: (estimates, facts) => [sourcesExhibit(estimates, facts)],
  blocks: (view, facts, figures) => [
    ...exhibitBlock(view.table("sources"), figures),
    ...facts.descriptors.map((_descriptor, at) => sourceFacts(facts, at)),
  ],
};

function sourcesExhibit({ casesBySource, sizes }: PoolEstimates, facts: PoolFacts): TableExhibit {
  const sum = (parts: readonly number[]) => parts.reduce((total, part) => total + part, 0);
  const counted = (key: string, units: number): Count => sized(key, sizeOfUnits(units, facts));
  const cell = (source: number, group: number) =>
    counted(
      `source/${source + 1}/${keyPart(facts.groups[group] ?? "")}`,
      casesBySource[source]?.[group] ?? 0,
    );
  const ofSource = (source: number) => counted(`source/${source + 1}`, sum(casesBySource[source] ?? []));
  // Without the size of a group nothing else of it may be told: the parts of sources are given up before it.
  const groups = sizes.map((size) => ({ ...sized(keys.group(size.label), size), keep: true as const }));
  const all = counted("cases", sum(sizes.map(({ units }) => units)));
  const sources = casesBySource.map((_cases, source) => source);
  const relations: Relation[] = [
    { total: all, parts: groups },
    { total: all, parts: sources.map(ofSource) },
    ...groups.map((total, group) => ({ total, parts: sources.map((source) => cell(source, group)) })),
    ...sources.map((source) => ({
      total: ofSource(source),
      parts: groups.map((_total, group) => cell(source, group)),
    })),
  ];
  return {
    kind: "table",
    id: "sources",
    title: `${capital(facts.words.unit.many)} by source and group`,
    columns: [
      { id: "source", label: "Source" },
      ...facts.groups.map((label, at) => ({ id: `group-${at}`, label, align: "end" as const })),
      { id: "total", label: "Together", align: "end" },
    ],
    rows: [
      ...sources.map((source) => ({
        label: facts.descriptors[source]?.title ?? "",
        cells: [
          ...groups.map((_total, group) => countCell(cell(source, group))),
          countCell(ofSource(source)),
        ],
      })),
      { label: "All sources", cells: [...groups.map(countCell), countCell(all)] },
    ],
    notes: [
      `Groups: ${facts.exposure}. A person with ${facts.words.unit.many} in two sources counts in both.`,
    ],
    relations,
  };
}

function sourceFacts(facts: PoolFacts, at: number): Block {
  const [descriptor, source] = [facts.descriptors[at], facts.sources[at]];
  return {
    kind: "facts",
    items: [
      { term: "Source", text: descriptor?.title ?? "" },
      { term: "Counted with", text: descriptor?.source ?? "" },
      { term: "What counts", text: descriptor?.revisionMeans ?? "" },
      { term: "Data cut", text: descriptor?.dataCut ?? "" },
      {
        term: `${capital(facts.words.event.many)} captured`,
        text: captureWords(descriptor?.revisionCapture),
      },
      { term: "Deaths captured", text: captureWords(descriptor?.deathCapture) },
      { term: "Counts", text: `${source?.fileName}, SHA-256 ${shortHash(source?.fileHash)}` },
      { term: "Descriptor", text: `SHA-256 ${shortHash(source?.descriptorHash)}` },
    ],
  };
}

function captureWords(capture: "national" | "ownUnit" | "unknown" | undefined): string {
  if (capture === "national") return "wherever they happen";
  return capture === "ownUnit" ? "in the own unit only" : "not known";
}
