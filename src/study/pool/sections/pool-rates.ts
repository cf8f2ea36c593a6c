import { capital } from "../../../base/words.ts";
import type { Relation, TableExhibit, TableRow } from "../../../disclosure/exhibit.ts";
import type { RatePeriod } from "../../../survival/results.ts";
import type { GroupSize } from "../../estimates/estimates.ts";
import { countCell, keys, limitsCell, noCell, sized } from "../../sections/cells.ts";
import { levelWords, periodWords } from "../../words.ts";
import type { PoolEstimates } from "../pool-estimate.ts";
import type { PoolFacts } from "../pool-facts.ts";
import { EVENT_KEY } from "../pool-section.ts";
import { sizeOfUnits } from "../pool-sizes.ts";

/** Rates by period with exact limits, the groups of one period beneath each other. */
export function poolRates({ rates, sizes }: PoolEstimates, facts: PoolFacts): TableExhibit {
  const { words } = facts;
  const spans = rates.periods.filter(({ group }) => group === facts.groups[0]);
  return {
    kind: "table",
    id: "rates",
    title: `${capital(words.event.many)} for ${facts.cause} per 100 ${words.unit.one}-years, by period`,
    columns: [
      { id: "group", label: "Period and group" },
      { id: "events", label: capital(words.event.many), align: "end" },
      { id: "years", label: `${capital(words.unit.one)}-years`, align: "end" },
      { id: "rate", label: `Rate per 100 (${levelWords(facts.level)} interval)`, align: "end" },
    ],
    rows: spans.flatMap(({ fromYear, toYear }, at) => [
      { label: periodWords(fromYear, toYear), heading: true, cells: [] },
      ...rates.periods
        .filter((period) => period.fromYear === fromYear)
        .map((period) => rateRow(period, at, sizes, facts)),
    ]),
    notes: [`Exact Poisson intervals; they take every ${words.unit.one} as independent.`],
    relations: sizes.flatMap((size) => relationsOf(size, spans)),
    settings: { ...rates.settings },
  };
}

function rateRow(
  { group, events, unitYears, rate }: RatePeriod,
  at: number,
  sizes: readonly GroupSize[],
  facts: PoolFacts,
): TableRow {
  const own = sizes.find(({ label }) => label === group) ?? { units: 0, persons: 0 };
  const size = sized(keys.group(group), own);
  const counted = sized(keys.eventsInPeriod(EVENT_KEY, group, at), sizeOfUnits(events, facts));
  return {
    label: group,
    indent: 1,
    cells: [
      countCell(counted),
      { kind: "number", value: unitYears, decimals: 0, restsOn: [size] },
      rate.computed ? limitsCell([rate.per100, rate.lower, rate.upper], 3, [counted, size]) : noCell(rate),
    ],
  };
}

/** All events are the sum of the periods; so are the events up to the end of a period. */
function relationsOf(size: GroupSize, spans: readonly RatePeriod[]): Relation[] {
  const parts = size.eventsByPeriod.map((events, at) =>
    sized(keys.eventsInPeriod(EVENT_KEY, size.label, at), events),
  );
  const upTo = spans.flatMap(({ toYear }, at): Relation[] => {
    if (toYear === null) return [];
    const before = parts.slice(0, at + 1);
    const units = before.reduce((sum, part) => sum + part.units, 0);
    return [{ total: { key: keys.eventsToYear(EVENT_KEY, size.label, toYear), units }, parts: before }];
  });
  return [{ total: sized(keys.events(EVENT_KEY, size.label), size.events), parts }, ...upTo];
}
