import type { Answer } from "../../base/answer.ts";
import type { Cell, TableExhibit } from "../../disclosure/exhibit.ts";
import type { SurvivalCurve } from "../../survival/results.ts";
import type { Adjusted, AdjustedModel } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { clusterWords, levelWords, yearWords } from "../words.ts";
import { limitsCell, noCell, textCell } from "./cells.ts";
import { modelCounts } from "./model-counts.ts";

/** What the ratios mean in numbers of people: the difference if the whole cohort had been in one group or the other. */
export function standardisedExhibit(
  found: Adjusted,
  survival: SurvivalCurve,
  facts: StudyFacts,
  periodsDisagree: boolean,
): TableExhibit {
  const { alone, adjusted } = found;
  const models = [
    { id: "alone", label: "Groups alone", model: alone },
    ...(facts.plan.adjusters === undefined ? [] : [{ id: "adjusted", label: "Adjusted", model: adjusted }]),
  ];
  return {
    kind: "table",
    id: "standardised",
    title: `Difference in net risk per 1000 ${facts.words.unit.many}, had the whole cohort been in one group or the other${periodsDisagree ? " and one ratio held in all years, which the periods speak against" : ""}`,
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
        cells: models.map(({ model }) => differenceCell(model, place, at + 1, { found, survival, facts })),
      })),
    ]),
    notes: [
      `From the models above, averaged over everybody in the model; one ratio for all years is taken as true. Net: if nobody died or had another reason first. Intervals: ${clusterWords(facts)}, by influence${correctedWords(models.map(({ model }) => model))}.`,
    ],
    settings: { level: facts.level, risk: "net", averagedOver: "rows in the model", periodsDisagree },
  };
}

/** As the fits were corrected, so are the differences made of them. */
function correctedWords(models: readonly Answer<AdjustedModel>[]): string {
  const isCorrected = models.some((model) => model.computed && model.fit.settings.smallSample === "shares");
  return isCorrected
    ? ", corrected for few clusters as the ratios are, with t on the degrees of freedom that the clusters leave"
    : "";
}

interface Ground {
  readonly found: Adjusted;
  readonly survival: SurvivalCurve;
  readonly facts: StudyFacts;
}

function differenceCell(
  model: Answer<AdjustedModel>,
  place: number,
  other: number,
  { found, survival, facts }: Ground,
): Cell {
  if (!model.computed) return noCell(model);
  // Nothing is printed beyond the day on which a group's curve stops.
  for (const group of [0, other]) {
    const value = survival.groups[group]?.atYears[place];
    if (value !== undefined && !value.computed) return noCell(value);
  }
  if (!model.differences.computed) return noCell(model.differences);
  const year = model.differences.years[place];
  if (year === undefined) return textCell("");
  if (!year.computed) return noCell(year);
  const name = `${found.groupTerm}: ${facts.groups[other]} against ${facts.groups[0]}`;
  // The first risk is that of the reference; a group without a row in the model has none.
  const difference = year.differences[year.risks.findIndex(({ group }) => group === name) - 1];
  // The model's ratio and its baseline are made from all events of both groups, not from those up to the year.
  const restsOn = modelCounts(found.rows, facts).events([0, other]);
  if (difference === undefined) return textCell("nobody of the group is in the model");
  if (!difference.computed) return noCell(difference, restsOn);
  const { estimate, lower, upper } = difference;
  return limitsCell([-1000 * estimate, -1000 * upper, -1000 * lower], 1, restsOn);
}
