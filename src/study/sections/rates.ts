import type { Answer } from "../../base/answer.ts";
import { capital } from "../../base/words.ts";
import type { Relation, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { RateComparison } from "../../survival/exact-rate-comparison.ts";
import type { RatePeriod } from "../../survival/results.ts";
import type { GroupSize, StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import type { ClearedView } from "../making/view.ts";
import { levelWords, periodWords } from "../words.ts";
import { countCell, keys, limitsCell, noCell, sized, textCell } from "./cells.ts";
import { joinedPeriods } from "./joined-periods.ts";

/** Notes on rows that the picture of the rates does not draw. */
const TABLE_NOTES = {
  ratios: "The intervals of the ratios are exact too.",
  notCompared: "What is not compared keeps a rate of its own here, so that it is not forgotten.",
  recordedLate:
    "Steps written down only after the revision are among the not recorded, which raises that rate.",
} as const;

/** What the notes of the rates say of their table alone, not of its picture. */
export const RATE_TABLE_NOTES: readonly string[] = Object.values(TABLE_NOTES);

/** Rates by declared period, the groups of one period beneath each other; knees not compared keep a rate too. */
export function ratesExhibit(estimates: StudyEstimates, facts: StudyFacts): TableExhibit {
  const sizes = [...estimates.compared, ...estimates.notCompared];
  const rates = [...estimates.rates.periods, ...(estimates.notComparedRates?.periods ?? [])];
  const starts = [...new Set(estimates.rates.periods.map((period) => period.fromYear))];
  return {
    kind: "table",
    id: "rates",
    title: `${capital(facts.words.event.many)} for ${facts.cause} per 100 ${facts.words.unit.one}-years, by period`,
    columns: [
      { id: "group", label: "Period and group" },
      { id: "events", label: capital(facts.words.event.many), align: "end" },
      { id: "years", label: `${capital(facts.words.unit.one)}-years`, align: "end" },
      { id: "rate", label: `Rate per 100 (${levelWords(facts.level)} interval)`, align: "end" },
    ],
    rows: starts.flatMap((fromYear, at) => [
      { label: periodLabel(rates, fromYear), heading: true, cells: [] },
      ...rates
        .filter((period) => period.fromYear === fromYear)
        .map((period) => rateRow(period, at, sizes, facts)),
      ...estimates.periodRatios.map((ratios) =>
        ratioRow(ratios.groups, ratios.byPeriod[at], at, sizes, facts),
      ),
    ]),
    notes: [
      `Exact intervals; they take every ${facts.words.unit.one} as independent.`,
      ...(estimates.periodRatios.length > 0 ? [TABLE_NOTES.ratios] : []),
      ...(estimates.notCompared.length > 0 ? [TABLE_NOTES.notCompared] : []),
      ...((estimates.recording?.recordedAfterRevision ?? 0) > 0 ? [TABLE_NOTES.recordedLate] : []),
      ...joinedPeriods(estimates, facts),
    ],
    relations: sizes.flatMap((size) => relationsOf(size, estimates, facts)),
    picture: "amounts",
    settings: { ...estimates.rates.settings },
  };
}

function rateRow(period: RatePeriod, at: number, sizes: readonly GroupSize[], facts: StudyFacts): TableRow {
  const size = sizes.find(({ label }) => label === period.group);
  const persons = size?.eventsByPeriod[at]?.persons ?? period.events;
  const events = sized(keys.eventsInPeriod(facts.cause, period.group, at), { units: period.events, persons });
  const group = sized(keys.group(period.group), size ?? { units: 0, persons: 0 });
  const { rate } = period;
  const place = facts.groups.indexOf(period.group);
  return {
    label: period.group,
    indent: 1,
    ...(place < 0 ? {} : { style: place }),
    cells: [
      countCell(events),
      { kind: "number", value: period.unitYears, decimals: 0, restsOn: [group] },
      rate.computed ? limitsCell([rate.per100, rate.lower, rate.upper], 3, [events, group]) : noCell(rate),
    ],
  };
}

/** One period's rate of the first group over the other's; how the period ratios differ is the question of this table. */
function ratioRow(
  groups: readonly [number, number],
  comparison: Answer<RateComparison> | undefined,
  at: number,
  sizes: readonly GroupSize[],
  facts: StudyFacts,
): TableRow {
  const label = `ratio, ${groups.map((group) => facts.groups[group]).join(" over ")}`;
  const blanks = [textCell(""), textCell("")];
  if (comparison === undefined || !comparison.computed) {
    return {
      label,
      indent: 1,
      cells: [...blanks, comparison === undefined ? textCell("") : noCell(comparison)],
    };
  }
  const restsOn = groups.flatMap((group) => {
    const size = sizes[group];
    const events = size?.eventsByPeriod[at];
    if (size === undefined || events === undefined) return [];
    return [
      sized(keys.eventsInPeriod(facts.cause, size.label, at), events),
      sized(keys.group(size.label), size),
    ];
  });
  const { ratio, lower, upper } = comparison;
  if (!ratio.computed) return { label, indent: 1, cells: [...blanks, noCell(ratio)] };
  if (!upper.computed) return { label, indent: 1, cells: [...blanks, noCell(upper)] };
  return { label, indent: 1, cells: [...blanks, limitsCell([ratio.value, lower, upper.value], 2, restsOn)] };
}

/** All events are the sum of the periods; so are the events up to the end of a period. */
function relationsOf(size: GroupSize, estimates: StudyEstimates, facts: StudyFacts): Relation[] {
  const parts = size.eventsByPeriod.map((events, at) =>
    sized(keys.eventsInPeriod(facts.cause, size.label, at), events),
  );
  const spans = estimates.rates.periods.filter(({ group }) => group === facts.groups[0]);
  const upTo = spans.flatMap(({ toYear }, at): Relation[] => {
    if (toYear === null) return [];
    const before = parts.slice(0, at + 1);
    const units = before.reduce((sum, part) => sum + part.units, 0);
    return [{ total: { key: keys.eventsToYear(facts.cause, size.label, toYear), units }, parts: before }];
  });
  return [{ total: sized(keys.events(facts.cause, size.label), size.events), parts }, ...upTo];
}

function periodLabel(rates: readonly RatePeriod[], fromYear: number): string {
  const period = rates.find((one) => one.fromYear === fromYear);
  return periodWords(fromYear, period?.toYear ?? null);
}

/** Whether the groups' rates point the same way in every period, one sentence a pair, read from the printed table. */
export function directionSentence(view: ClearedView, facts: StudyFacts): string {
  const [first = "", ...others] = facts.groups;
  return others
    .map((second) => {
      const says = directionOf(periodSigns(view, first, second));
      return others.length === 1 ? says : `“${first}” and “${second}”: ${says}`;
    })
    .join(" ");
}

function directionOf(signs: readonly (number | undefined)[]): string {
  if (signs.length < 2)
    return "There is one period only, so nothing can be said about change over the years.";
  if (signs.some((sign) => sign === undefined)) {
    return "Whether the periods point the same way cannot be said: at least one rate is not shown.";
  }
  return new Set(signs).size === 1
    ? "The estimated rates of all periods point the same way."
    : "The estimated rates of the periods do not all point the same way. With few events that can be chance; one average over all years would hide it if it is not.";
}

/** Side of the first group's rate against the second's, a period each; undefined where one is not shown. */
export function periodSigns(view: ClearedView, first: string, second: string): (number | undefined)[] {
  const signs: (number | undefined)[] = [];
  let rates = new Map<string, number | undefined>();
  for (const row of view.table("rates")?.rows ?? []) {
    if (row.heading) rates = new Map();
    // Which of two points higher is not said where one is of now and one of an earlier report.
    else rates.set(row.label, row.cells[2]?.asBefore ? undefined : row.cells[2]?.values[0]);
    if (!rates.has(first) || !rates.has(second) || row.heading) continue;
    if (row.label !== first && row.label !== second) continue;
    const [one, two] = [rates.get(first), rates.get(second)];
    signs.push(one === undefined || two === undefined ? undefined : Math.sign(one - two));
  }
  return signs;
}
