import type { Answer } from "../../base/answer.ts";
import { capital } from "../../base/words.ts";
import type { Cell, Count, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { YearDifference, YearValue } from "../../survival/results.ts";
import type { StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { exhibitBlock } from "../making/exhibit-block.ts";
import type { Section } from "../making/section.ts";
import { clusterWords, levelWords, riskRowLabel, whoTheyWere } from "../words.ts";
import { keys, limitsCell, noCell, sized } from "./cells.ts";
import { fewClustersCaution } from "./few-clusters.ts";
import { logRankExhibit } from "./log-rank.ts";
import { rateRatioExhibit } from "./rate-ratios.ts";
import { directionSentence, ratesExhibit } from "./rates.ts";

/** The groups beside each other: risks and differences at stated years, rates by period, one test over all years. */
export const effects: Section = {
  id: "effects",
  title: () => "The groups compared",
  exhibits: (estimates, facts) => [
    riskExhibit(estimates, facts),
    ratesExhibit(estimates, facts),
    rateRatioExhibit(estimates, facts),
    logRankExhibit(estimates, facts),
  ],
  blocks: (view, facts, figures) => [
    {
      kind: "caution",
      text: `None of these numbers is adjusted for who ${whoTheyWere(facts)} were.`,
    },
    ...fewClustersCaution(facts),
    ...exhibitBlock(view.table("risk-at-years"), figures),
    ...exhibitBlock(view.table("rates"), figures),
    { kind: "prose", text: directionSentence(view, facts) },
    ...exhibitBlock(view.table("rate-ratios"), figures),
    ...exhibitBlock(view.table("log-rank"), figures),
  ],
};

function riskExhibit(estimates: StudyEstimates, facts: StudyFacts): TableExhibit {
  return {
    kind: "table",
    id: "risk-at-years",
    title: `${capital(facts.words.event.many)} for ${facts.cause} per 1000 ${facts.words.unit.many}`,
    columns: [
      { id: "when", label: "Risk and year" },
      ...facts.groups.map((group, at) => ({ id: `group-${at}`, label: group, align: "end" as const })),
      ...estimates.pairs.map(({ groups: [first, second] }) => ({
        id: `difference-${first}-${second}`,
        label: `Difference: ${facts.groups[first]} minus ${facts.groups[second]}`,
        align: "end" as const,
      })),
    ],
    rows: (["crude", "net"] as const).flatMap((risk) =>
      facts.plan.years.map((year, at) => ({
        label: riskRowLabel(risk, year),
        cells: riskCells(estimates, facts, risk, at),
      })),
    ),
    notes: [
      `In brackets: ${levelWords(facts.level)} interval. Differences: ${clusterWords(facts)}.`,
      "“About”: widened to whole steps, because a small count stands next to it.",
      "Crude: out of all, those who die or have another reason first included. Net: if nobody died or had another reason first.",
    ],
    settings: { level: facts.level, clusteredBy: facts.clusters.by },
  };
}

function riskCells(
  estimates: StudyEstimates,
  facts: StudyFacts,
  risk: "crude" | "net",
  at: number,
): TableRow["cells"] {
  const counted = (group: number) => {
    const size = estimates.compared[group];
    const events = size?.eventsByYear[at] ?? { units: 0, persons: 0 };
    return sized(keys.eventsToYear(facts.cause, size?.label ?? "", facts.plan.years[at] ?? 0), events);
  };
  const owned = (group: number) => {
    const size = estimates.compared[group];
    return sized(keys.group(size?.label ?? ""), size ?? { units: 0, persons: 0 });
  };
  const restsOn = (groups: readonly number[]) => [...groups.map(counted), ...groups.map(owned)];
  // In steps for one kind of risk alone: the roundings of two would narrow each other.
  const steps = risk === "crude" || !facts.crude.computed ? { inSteps: true as const } : {};
  // The sizes of the groups follow: a hidden one hides everything of its group.
  const changes = (groups: readonly number[]): Widening => ({
    oneMoreChanges: [
      ...groups.map((group, place) => (place === 0 ? 1 : -1) * oneEventMore(group)),
      ...groups.map(() => 0),
    ],
    ...steps,
  });
  const oneEventMore = (group: number) => perEvent(yearValue(estimates, facts, risk, group, at));
  const groups = facts.groups.map((_label, group): Cell => {
    const value = yearValue(estimates, facts, risk, group, at);
    if (!value.computed) return noCell(value);
    return perThousand(riskLimits(value, risk), restsOn([group]), changes([group]));
  });
  const differences = estimates.pairs.map((pair): Cell => {
    const difference = pair[risk][at];
    if (difference === undefined) return { kind: "none", because: "not asked for" };
    if (!difference.computed) return noCell(difference);
    return perThousand(differenceLimits(difference, risk), restsOn(pair.groups), changes(pair.groups));
  });
  return [...groups, ...differences];
}

function yearValue(
  estimates: StudyEstimates,
  facts: StudyFacts,
  risk: "crude" | "net",
  group: number,
  at: number,
): Answer<YearValue> {
  const missing = { computed: false, code: "no-group", because: "no such group" } as const;
  if (risk === "net") return estimates.survival.groups[group]?.atYears[at] ?? missing;
  if (!estimates.incidence.computed) return estimates.incidence;
  const curves = estimates.incidence.curves.filter((curve) => curve.cause === facts.cause);
  return curves[group]?.atYears[at] ?? missing;
}

type Widening = NonNullable<Parameters<typeof limitsCell>[3]>;
type Limits = readonly [number, number | null, number | null];

function riskLimits(value: YearValue, risk: "crude" | "net"): Limits {
  if (risk === "crude") return [value.value, value.lower, value.upper];
  return [1 - value.value, flip(value.upper), flip(value.lower)];
}

/** A difference of survival is minus the difference of risk. */
function differenceLimits(difference: YearDifference, risk: "crude" | "net"): Limits {
  if (risk === "crude" || difference.measure === "incidence") {
    return [difference.difference, difference.lower, difference.upper];
  }
  return [-difference.difference, -difference.upper, -difference.lower];
}

function flip(share: number | null): number | null {
  return share === null ? null : 1 - share;
}

/** One event more among those at risk, per 1000. */
function perEvent(value: Answer<YearValue>): number {
  return value.computed ? 1000 / Math.max(1, value.atRisk) : 1000;
}

function perThousand([value, low, high]: Limits, restsOn: readonly Count[], widening: Widening): Cell {
  if (low === null || high === null) return { kind: "none", because: "nobody left under observation" };
  return limitsCell([1000 * value, 1000 * low, 1000 * high], 1, restsOn, widening);
}
