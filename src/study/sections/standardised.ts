import type { Answer } from "../../base/answer.ts";
import type { Cell, TableExhibit } from "../../disclosure/exhibit.ts";
import { keys, limitsCell, noCell, sized, textCell } from "../cells.ts";
import type { Adjusted, AdjustedModel, GroupSize } from "../estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { clusterWords, levelWords, yearWords } from "../words.ts";

/** What the ratios mean in numbers of people: the difference if the whole cohort had been in one group or the other. */
export function standardisedExhibit(
  { alone, adjusted }: Adjusted,
  sizes: readonly GroupSize[],
  facts: StudyFacts,
): TableExhibit {
  const models = [
    { id: "alone", label: "Groups alone", model: alone },
    ...(facts.plan.adjusters === undefined ? [] : [{ id: "adjusted", label: "Adjusted", model: adjusted }]),
  ];
  return {
    kind: "table",
    id: "standardised",
    title: `Difference in net risk per 1,000 ${facts.words.unit.many}, had the whole cohort been in one group or the other`,
    columns: [
      { id: "item", label: "Groups and year" },
      ...models.map(({ id, label }) => ({
        id,
        label: `${label} (${levelWords(facts.level)} interval)`,
        align: "end" as const,
      })),
    ],
    rows: facts.groups.slice(1).flatMap((other, at) => [
      { label: `${facts.groups[0]} minus ${other}`, heading: true, cells: [] },
      ...facts.plan.years.map((year, place) => ({
        label: `at ${yearWords(year)}`,
        indent: 1,
        cells: models.map(({ model }) => differenceCell(model, place, at, sizes, facts)),
      })),
    ]),
    notes: [
      `From the models above, averaged over everybody in the comparison; one ratio for all years is taken as true. Net: if nobody died or had another reason first. Intervals: ${clusterWords(facts)}, by influence, without the correction for few clusters.`,
    ],
  };
}

function differenceCell(
  model: Answer<AdjustedModel>,
  year: number,
  at: number,
  sizes: readonly GroupSize[],
  facts: StudyFacts,
): Cell {
  if (!model.computed) return noCell(model);
  if (!model.differences.computed) return noCell(model.differences);
  const found = model.differences.years[year];
  if (found === undefined) return textCell("");
  if (!found.computed) return noCell(found);
  const difference = found.differences[at];
  if (difference === undefined) return textCell("");
  if (!difference.computed) return noCell(difference);
  // The model's ratio and its baseline are made from all events of both groups, not from those up to the year.
  const restsOn = [0, at + 1].flatMap((group) => {
    const size = sizes[group];
    if (size === undefined) return [];
    return [sized(keys.events(facts.cause, size.label), size.events), sized(keys.group(size.label), size)];
  });
  const { estimate, lower, upper } = difference;
  return limitsCell([-1000 * estimate, -1000 * upper, -1000 * lower], 1, restsOn);
}
