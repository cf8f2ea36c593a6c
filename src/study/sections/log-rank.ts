import type { Answer } from "../../base/answer.ts";
import { capital } from "../../base/words.ts";
import type { Cell, Count, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { LogRankTest } from "../../survival/results.ts";
import type { StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { clusterWords } from "../words.ts";
import { countCell, eventsTogether, keys, noCell, sized } from "./cells.ts";

/** One test over all years, clustered and, for the statistician, as if every unit were independent. */
export function logRankExhibit(estimates: StudyEstimates, facts: StudyFacts): TableExhibit {
  const { clustered, plain } = estimates.logRank;
  const together = eventsTogether(estimates.compared, facts.cause);
  const groups = together.parts;
  // What is expected follows the sizes of the groups.
  const restsOn = [...groups, ...estimates.compared.map((group) => sized(keys.group(group.label), group))];
  return {
    kind: "table",
    id: "log-rank",
    title: "One test over all years (log-rank)",
    columns: [
      { id: "item", label: "Item" },
      ...facts.groups.map((group, at) => ({ id: `group-${at}`, label: group, align: "end" as const })),
      { id: "statistic", label: "Chi-square", align: "end" },
      { id: "p", label: "p", align: "end" },
    ],
    rows: [
      {
        label: `${capital(facts.words.event.many)} seen`,
        cells: [...groups.map(countCell), { kind: "text", text: "" }, { kind: "text", text: "" }],
      },
      expectedRow(clustered.computed ? clustered : plain, facts, restsOn),
      testRow(`Test, ${clusterWords(facts)}`, clustered, facts, restsOn, clusterCount(facts)),
      ...(facts.clusters.by === "none"
        ? []
        : [testRow(`Test as if every ${facts.words.unit.one} were independent`, plain, facts, restsOn)]),
    ],
    notes: [
      "Hypergeometric variance for the plain test; the clustered one adds up each cluster's part of the score, squared. Below 30 clusters its p is that of t on one less than their number.",
      ...smallerWords(estimates.logRank, facts),
      "One number over all years can hide effects that change: read it beside the rates by period.",
    ],
    relations: [together],
    settings: clustered.computed ? settingsToPrint(clustered) : { reason: clustered.because },
  };
}

/** A reader expects clusters to widen what chance explains. */
function smallerWords(
  { clustered, plain }: StudyEstimates["logRank"],
  { clusters: { by }, words: { unit } }: StudyFacts,
): string[] {
  if (!clustered.computed || !plain.computed || clustered.p >= plain.p) return [];
  return [
    `The clustered p is the smaller one here: what each ${by} adds to the score varies less than independence would have it. Where one ${by} has ${unit.many} of both groups their chances partly cancel, and over few clusters that can be chance too; it makes nothing surer.`,
  ];
}

/** How many clusters there are is a count of people; methods say it where the audience may know. */
function settingsToPrint({ settings }: LogRankTest) {
  const { clusters: _clusters, degreesOfFreedomOfT: _freedom, ...rest } = settings;
  return rest;
}

/** With few clusters the statistic and its p together give the degrees of freedom, and so the clusters. */
function clusterCount({ clusters: { by, clusters } }: StudyFacts): Count[] {
  return by === "none" ? [] : [{ key: `clusters/${by}`, units: clusters }];
}

function expectedRow(test: Answer<LogRankTest>, facts: StudyFacts, restsOn: readonly Count[]): TableRow {
  const blank: Cell = { kind: "text", text: "" };
  const expected = facts.groups.map((label): Cell => {
    if (!test.computed) return noCell(test);
    const value = test.groups.find((group) => group.group === label)?.expected;
    return value === undefined ? blank : { kind: "statistic", value, restsOn };
  });
  return { label: "Expected if the groups were alike", cells: [...expected, blank, blank] };
}

function testRow(
  label: string,
  test: Answer<LogRankTest>,
  facts: StudyFacts,
  restsOn: readonly Count[],
  clusters: readonly Count[] = [],
): TableRow {
  const blanks = facts.groups.map((): Cell => ({ kind: "text", text: "" }));
  if (!test.computed) return { label, cells: [...blanks, noCell(test), noCell(test)] };
  return {
    label,
    cells: [
      ...blanks,
      { kind: "statistic", value: test.chiSquare, restsOn: [...restsOn, ...clusters] },
      { kind: "pValue", p: test.p, restsOn },
    ],
  };
}
