import { tickOfYear } from "../../base/time-unit.ts";
import { capital } from "../../base/words.ts";
import type { Cell, Count, Relation, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { CumulativeIncidence, IncidenceSteps } from "../../survival/results.ts";
import type { StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { yearWords } from "../words.ts";
import { keys, noCell, sized } from "./cells.ts";

/** What had become of each group by the plan's years: every outcome, and the rest up to the whole. */
export function outcomesAtYearsExhibit(
  { incidence, compared }: StudyEstimates,
  facts: StudyFacts,
): readonly TableExhibit[] {
  if (!incidence.computed || facts.competing.length === 0) return [];
  const outcomes = [facts.cause, ...facts.competing];
  const counted = (group: string, at: number) =>
    outcomes.map((outcome) => eventsBy(incidence, compared, facts, { outcome, group, at }));
  return [
    {
      kind: "table",
      id: "outcomes-at-years",
      title: `What had become of ${facts.words.unit.many}, per 1000`,
      columns: [
        { id: "group", label: "Year and group" },
        ...outcomes.map((outcome, at) => ({
          id: `part-${at}`,
          label: capital(outcome),
          align: "end" as const,
        })),
        { id: "none", label: "None of these", align: "end" as const },
      ],
      rows: facts.plan.years.flatMap((year, at) => [
        { label: `By ${yearWords(year)}`, heading: true, cells: [] },
        ...facts.groups.map(
          (group, style): TableRow => ({
            label: group,
            indent: 1,
            style,
            cells: cellsOf(incidence, outcomes, group, at, [
              ...counted(group, at),
              sized(keys.group(group), compared[style] ?? { units: 0, persons: 0 }),
            ]),
          }),
        ),
      ]),
      notes: [
        `Crude risks of all outcomes, which with the rest make 1000: whichever came first. Without intervals; those of ${facts.cause} stand under the groups compared.`,
      ],
      relations: facts.plan.years.flatMap((year, at) =>
        facts.groups.map((group) => competingRelation(counted(group, at).slice(1), facts, group, year)),
      ),
      picture: "stacks",
    },
  ];
}

function cellsOf(
  incidence: CumulativeIncidence,
  outcomes: readonly string[],
  group: string,
  at: number,
  counts: readonly Count[],
): Cell[] {
  const values = outcomes.map((outcome) => curveOf(incidence, outcome, group)?.atYears[at]);
  const own = counts.at(-1);
  const cells = values.map((value, place): Cell => {
    if (value === undefined || !value.computed) return noCell(value ?? NO_CURVE);
    const restsOn = [counts[place], own].filter((count) => count !== undefined);
    return { kind: "number", value: 1000 * value.value, decimals: 1, restsOn };
  });
  const shares = values.flatMap((value) => (value?.computed ? [value.value] : []));
  // The rest and all outcomes but one give that one.
  const rest: Cell =
    shares.length < outcomes.length
      ? noCell(NO_CURVE)
      : {
          kind: "number",
          value: 1000 * shares.reduce((left, share) => left - share, 1),
          decimals: 1,
          restsOn: counts,
        };
  return [...cells, rest];
}

const NO_CURVE = { computed: false, code: "no-curve", because: "nobody left under observation" } as const;

/** How many had it by then. Whose they were is known for the event alone; of the others at least half as many people. */
function eventsBy(
  incidence: CumulativeIncidence,
  compared: StudyEstimates["compared"],
  facts: StudyFacts,
  { outcome, group, at }: { readonly outcome: string; readonly group: string; readonly at: number },
): Count {
  const year = facts.plan.years[at] ?? 0;
  const key = keys.eventsToYear(outcome, group, year);
  const known = compared.find(({ label }) => label === group)?.eventsByYear[at];
  if (outcome === facts.cause && known !== undefined) return sized(key, known);
  const curve = curveOf(incidence, outcome, group);
  const last = tickOfYear(year, facts.timeUnit);
  const units = (curve?.time ?? []).reduce(
    (sum, tick, place) => sum + (tick <= last ? (curve?.eventsAt[place] ?? 0) : 0),
    0,
  );
  return { key, units, persons: Math.ceil(units / 2) };
}

/** The numbers beneath the curve count all other outcomes together. */
function competingRelation(
  parts: readonly Count[],
  { cause }: StudyFacts,
  group: string,
  year: number,
): Relation {
  const units = parts.reduce((sum, part) => sum + part.units, 0);
  return { total: { key: `competing/${keys.curve(cause, group)}/to:${year}`, units }, parts };
}

function curveOf(
  { curves }: CumulativeIncidence,
  outcome: string,
  group: string,
): IncidenceSteps | undefined {
  return curves.find((curve) => curve.cause === outcome && curve.group === group);
}
