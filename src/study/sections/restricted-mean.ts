import { capital } from "../../base/words.ts";
import type { Cell, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { RestrictedMean } from "../../survival/restricted-mean.ts";
import type { StudyFacts } from "../facts.ts";
import { article, clusterWords, levelWords, yearWords } from "../words.ts";
import { limitsCell, noCell, textCell } from "./cells.ts";

/** How much of the first years passes without the event, on average, by group and between groups. */
export function restrictedMeanExhibit(mean: RestrictedMean, facts: StudyFacts): TableExhibit {
  const { toYear } = mean.settings;
  return {
    kind: "table",
    id: "restricted-mean",
    title: `Mean years without ${article(facts.words.event.one)} for ${facts.cause}, out of the first ${yearWords(toYear)}`,
    columns: [
      { id: "item", label: "Item" },
      { id: "years", label: `Years (${levelWords(facts.level)} interval)`, align: "end" },
      { id: "lost", label: "Years lost on average", align: "end" },
      { id: "error", label: "Standard error", align: "end" },
      { id: "p", label: "p", align: "end" },
    ],
    rows: [
      ...mean.groups.map((group, at) => groupRow(facts.groups[at] ?? "", group)),
      ...mean.comparisons.flatMap((comparison, at) =>
        comparisonRows(`${facts.groups[0]} minus ${facts.groups[at + 1]}`, comparison, at, facts),
      ),
    ],
    notes: [
      `Area under the net curve, which asks nothing about how the hazard changes, to ${facts.timeUnit.word} ${mean.settings.toTick}: so long are years kept and lost together. Intervals: ${clusterWords(facts)}.`,
      ...(mean.settings.smallSample === "shares"
        ? [
            "The influence of each cluster is divided by one minus its share of the group; t on the degrees of freedom that the shares leave each contrast (Satterthwaite).",
          ]
        : []),
    ],
    settings: { ...mean.settings },
  };
}

function groupRow(label: string, group: RestrictedMean["groups"][number]): TableRow {
  if (!group.computed) return refused(label, noCell(group));
  return {
    label,
    cells: [
      limitsCell([group.years, group.lower, group.upper], 3, []),
      { kind: "number", value: group.yearsLost, decimals: 3, restsOn: [] },
      { kind: "number", value: group.standardError, decimals: 4, restsOn: [] },
      textCell(""),
    ],
  };
}

function comparisonRows(
  label: string,
  comparison: RestrictedMean["comparisons"][number],
  at: number,
  facts: StudyFacts,
): TableRow[] {
  if (!comparison.computed) return [refused(label, noCell(comparison))];
  const { difference, ratio, ratioOfYearsLost } = comparison;
  const over = `${facts.groups[0]} over ${facts.groups[at + 1]}`;
  return [
    {
      label,
      cells: [
        limitsCell([difference.estimate, difference.lower, difference.upper], 3, []),
        textCell(""),
        { kind: "number", value: difference.standardError, decimals: 4, restsOn: [] },
        { kind: "pValue", p: difference.p, restsOn: [] },
      ],
    },
    ...(
      [
        [`${over}, ratio`, ratio],
        [`${over}, ratio of years lost`, ratioOfYearsLost],
      ] as const
    ).map(
      ([words, one]): TableRow =>
        one.computed
          ? {
              label: capital(words),
              cells: [
                limitsCell([one.estimate, one.lower, one.upper], 4, []),
                textCell(""),
                textCell(""),
                { kind: "pValue", p: one.p, restsOn: [] },
              ],
            }
          : refused(capital(words), noCell(one)),
    ),
  ];
}

function refused(label: string, why: Cell): TableRow {
  return { label, cells: [why, textCell(""), textCell(""), textCell("")] };
}
