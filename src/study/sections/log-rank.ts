import type { Answer } from "../../base/answer.ts";
import type { Cell, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { LogRankTest } from "../../survival/results.ts";
import { countCell, keys, noCell, sized } from "../cells.ts";
import type { StudyEstimates } from "../estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { capital, clusterWords } from "../words.ts";

/** One test over all years, clustered and, for the statistician, as if every unit were independent. */
export function logRankExhibit(estimates: StudyEstimates, facts: StudyFacts): TableExhibit {
  const { clustered, plain } = estimates.logRank;
  const groups = estimates.compared.map((group) =>
    sized(keys.events(facts.cause, group.label), group.events),
  );
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
      expectedRow(clustered.computed ? clustered : plain, facts, groups),
      testRow(`Test, ${clusterWords(facts)}`, clustered, facts, groups),
      ...(facts.clusters.by === "none"
        ? []
        : [testRow(`Test as if every ${facts.words.unit.one} were independent`, plain, facts, groups)]),
    ],
    notes: [
      "Hypergeometric variance for the plain test; the clustered one adds up each cluster's part of the score.",
      "One number over all years can hide effects that change: read it beside the rates by period.",
    ],
    settings: clustered.computed ? { ...clustered.settings } : { reason: clustered.because },
  };
}

function expectedRow(
  test: Answer<LogRankTest>,
  facts: StudyFacts,
  groups: readonly { key: string; units: number }[],
): TableRow {
  const blank: Cell = { kind: "text", text: "" };
  const expected = facts.groups.map((label): Cell => {
    if (!test.computed) return noCell(test);
    const value = test.groups.find((group) => group.group === label)?.expected;
    return value === undefined ? blank : { kind: "statistic", value, restsOn: groups };
  });
  return { label: "Expected if the groups were alike", cells: [...expected, blank, blank] };
}

function testRow(
  label: string,
  test: Answer<LogRankTest>,
  facts: StudyFacts,
  restsOn: readonly { key: string; units: number }[],
): TableRow {
  const blanks = facts.groups.map((): Cell => ({ kind: "text", text: "" }));
  if (!test.computed) return { label, cells: [...blanks, noCell(test), noCell(test)] };
  return {
    label,
    cells: [
      ...blanks,
      { kind: "statistic", value: test.chiSquare, restsOn },
      { kind: "pValue", p: test.p, restsOn },
    ],
  };
}
