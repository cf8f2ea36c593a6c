import type { Answer } from "../../../base/answer.ts";
import { capital } from "../../../base/words.ts";
import type { Cell, Count, TableExhibit } from "../../../disclosure/exhibit.ts";
import type { YearDifference, YearValue } from "../../../survival/results.ts";
import { keys, limitsCell, noCell, sized } from "../../sections/cells.ts";
import { levelWords, riskRowLabel } from "../../words.ts";
import type { PoolEstimates } from "../pool-estimate.ts";
import type { PoolFacts } from "../pool-facts.ts";
import { EVENT_KEY } from "../pool-section.ts";
import { independentWords } from "./pool-words.ts";

type Risk = "crude" | "net";

/** Risks and differences at the years asked for, per 1000. */
export function poolRisks(estimates: PoolEstimates, facts: PoolFacts): TableExhibit {
  const { groups, words, years, level } = facts;
  return {
    kind: "table",
    id: "risk-at-years",
    title: `${capital(words.event.many)} for ${facts.cause} per 1000 ${words.unit.many}`,
    columns: [
      { id: "when", label: "Risk and year" },
      ...groups.map((label, at) => ({ id: `group-${at}`, label, align: "end" as const })),
      ...estimates.pairs.map(({ groups: [first, second] }) => ({
        id: `difference-${first}-${second}`,
        label: `Difference: ${groups[first]} minus ${groups[second]}`,
        align: "end" as const,
      })),
    ],
    rows: (["crude", "net"] as const).flatMap((risk) =>
      years.map((year, at) => ({
        label: riskRowLabel(risk, year),
        cells: riskCells(estimates, facts, risk, at),
      })),
    ),
    notes: [
      `In brackets: ${levelWords(level)} interval, ${independentWords(facts)}.`,
      "“About”: widened to whole steps, because a small count stands next to it.",
      "Crude: out of all, those who die or have another reason first included. Net: if nobody died or had another reason first.",
    ],
    settings: { level, clusteredBy: null },
  };
}

function riskCells(estimates: PoolEstimates, facts: PoolFacts, risk: Risk, at: number): Cell[] {
  const values = facts.groups.map((_label, group) => yearValue(estimates, facts, risk, group, at));
  const counted = (group: number): Count => {
    const size = estimates.sizes[group];
    const year = facts.years[at] ?? 0;
    const events = size?.eventsByYear[at] ?? { units: 0, persons: 0 };
    return sized(keys.eventsToYear(EVENT_KEY, size?.label ?? "", year), events);
  };
  const perEvent = (group: number) => {
    const value = values[group];
    return value?.computed ? 1000 / Math.max(1, value.atRisk) : 1000;
  };
  const owned = (group: number): Count => {
    const size = estimates.sizes[group];
    return sized(keys.group(size?.label ?? ""), size ?? { units: 0, persons: 0 });
  };
  // In steps for one kind of risk alone: the roundings of two would narrow each other.
  const steps = risk === "crude" || !facts.crude.computed ? { inSteps: true as const } : {};
  const groups = values.map((value, group): Cell => {
    if (!value.computed) return noCell(value);
    const limits = [value.value, value.lower, value.upper] as const;
    const [share, low, high] = risk === "crude" ? limits : oneMinus(limits);
    if (low === null || high === null) return { kind: "none", because: "nobody left under observation" };
    return perThousand([share, low, high], [counted(group), owned(group)], {
      oneMoreChanges: [perEvent(group), 0],
      ...steps,
    });
  });
  const differences = estimates.pairs.map((pair): Cell => {
    const difference = pair[risk][at];
    if (difference === undefined) return { kind: "none", because: "not asked for" };
    if (!difference.computed) return noCell(difference);
    return perThousand(riskDifference(difference), [...pair.groups.map(counted), ...pair.groups.map(owned)], {
      oneMoreChanges: [...pair.groups.map((group, place) => (place === 0 ? 1 : -1) * perEvent(group)), 0, 0],
      ...steps,
    });
  });
  return [...groups, ...differences];
}

function yearValue(
  { incidence, survival }: PoolEstimates,
  facts: PoolFacts,
  risk: Risk,
  group: number,
  at: number,
): Answer<YearValue> {
  const missing = { computed: false, code: "no-group", because: "no such group" } as const;
  if (risk === "net") return survival.groups[group]?.atYears[at] ?? missing;
  if (!incidence.computed) return incidence;
  return incidence.curves.filter(({ cause }) => cause === facts.cause)[group]?.atYears[at] ?? missing;
}

function oneMinus([value, lower, upper]: readonly [number, number | null, number | null]) {
  const flip = (share: number | null) => (share === null ? null : 1 - share);
  return [1 - value, flip(upper), flip(lower)] as const;
}

/** A difference of survival is minus the difference of risk. */
function riskDifference({ measure, difference, lower, upper }: YearDifference): [number, number, number] {
  return measure === "incidence" ? [difference, lower, upper] : [-difference, -upper, -lower];
}

function perThousand(
  [value, low, high]: readonly [number, number, number],
  restsOn: readonly Count[],
  widening: Parameters<typeof limitsCell>[3],
): Cell {
  return limitsCell([1000 * value, 1000 * low, 1000 * high], 1, restsOn, widening);
}
