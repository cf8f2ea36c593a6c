import type { Answer } from "../../base/answer.ts";
import { capital } from "../../base/words.ts";
import type { Cell, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { ClusteredRate, ClusteredRateComparison } from "../../survival/clustered-rate.ts";
import type { StudyFacts } from "../facts.ts";
import { clusterWords, levelWords, periodWords } from "../words.ts";
import { limitsCell, noCell, textCell } from "./cells.ts";

/** Rates by period with their variance between clusters: beside the exact ones, which take every row as independent. */
export function clusteredRatesExhibit(
  answer: Answer<ClusteredRate>,
  facts: StudyFacts,
): readonly TableExhibit[] {
  if (!answer.computed) return [];
  const first = answer.periods.filter(({ group }) => group === facts.groups[0]);
  return [
    {
      kind: "table",
      id: "clustered-rates",
      title: `${capital(facts.words.event.many)} for ${facts.cause} per 100 ${facts.words.unit.one}-years, ${clusterWords(facts)}`,
      columns: [
        { id: "item", label: "Period and item" },
        { id: "value", label: `Value (${levelWords(facts.level)} interval)`, align: "end" },
        { id: "p", label: "p", align: "end" },
      ],
      rows: first.flatMap(({ fromYear, toYear }) => [
        { label: periodWords(fromYear, toYear), heading: true, cells: [] },
        ...answer.periods.filter((period) => period.fromYear === fromYear).map(rateRow),
        ...answer.comparisons
          .filter((comparison) => comparison.fromYear === fromYear)
          .flatMap(comparisonRows),
      ]),
      notes: [
        "Variance between clusters: what each has over its expected number is divided by one minus its share of the group's time in the period; t on the degrees of freedom that the shares leave ratio and difference, each its own (Satterthwaite). Read beside the exact limits, and where events are few trust the wider.",
      ],
      settings: { ...answer.settings },
    },
  ];
}

function rateRow({ group, rate }: ClusteredRate["periods"][number]): TableRow {
  const cell: Cell = rate.computed ? limitsCell([rate.per100, rate.lower, rate.upper], 3, []) : noCell(rate);
  return { label: group, indent: 1, cells: [cell, textCell("")] };
}

function comparisonRows({ groups, comparison }: ClusteredRateComparison): TableRow[] {
  const [first, second] = groups;
  if (!comparison.computed) {
    return [{ label: `${first} over ${second}`, indent: 1, cells: [noCell(comparison), textCell("")] }];
  }
  const { ratio, difference } = comparison;
  return [
    {
      label: `${first} over ${second}`,
      indent: 1,
      cells: ratio.computed
        ? [
            limitsCell([ratio.estimate, ratio.lower, ratio.upper], 2, []),
            { kind: "pValue", p: ratio.p, restsOn: [] },
          ]
        : [noCell(ratio), textCell("")],
    },
    {
      label: `${first} minus ${second}`,
      indent: 1,
      cells: [
        limitsCell([difference.estimate, difference.lower, difference.upper], 3, []),
        { kind: "pValue", p: difference.p, restsOn: [] },
      ],
    },
  ];
}
