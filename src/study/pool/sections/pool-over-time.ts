import { capital } from "../../../base/words.ts";
import type { CurveExhibit, ExhibitCurve } from "../../../disclosure/exhibit.ts";
import type { IncidenceSteps, SurvivalSteps } from "../../../survival/results.ts";
import { exhibitBlock } from "../../making/exhibit-block.ts";
import { besideEachOther } from "../../sections/beside.ts";
import { keys } from "../../sections/cells.ts";
import { article, levelWords, listed } from "../../words.ts";
import type { PoolEstimates } from "../pool-estimate.ts";
import type { PoolFacts } from "../pool-facts.ts";
import { EVENT_KEY, type PoolSection } from "../pool-section.ts";

/** Years at which the table under a curve stands, beside those asked for. */
const TABLE_YEARS = [0, 1, 3, 5, 10, 15];

/** Crude and net risk over time, by group. */
export const poolOverTime: PoolSection = {
  id: "over-time",
  title: (facts) => `${capital(facts.words.event.one)} over time`,
  exhibits: (estimates, facts) => [...crudeExhibit(estimates, facts), netExhibit(estimates, facts)],
  blocks: (view, facts, figures) => [
    ...exhibitBlock(view.curves("crude-risk"), figures),
    ...(facts.crude.computed
      ? []
      : [{ kind: "caution" as const, text: `Crude risk is not given: ${facts.crude.because}.` }]),
    ...exhibitBlock(view.curves("net-risk"), figures),
    ...besideEachOther(figures),
    {
      kind: "prose",
      text: `Crude risk is what happens to people; net risk asks about ${facts.cause} alone. Intervals take every ${facts.words.unit.one} as independent.`,
    },
  ],
};

function crudeExhibit({ incidence }: PoolEstimates, facts: PoolFacts): readonly CurveExhibit[] {
  if (!incidence.computed) return [];
  const curves = incidence.curves.filter(({ cause }) => cause === facts.cause);
  return [
    {
      ...common(facts),
      id: "crude-risk",
      title: `${capital(facts.cause)}: crude risk`,
      question: `Out of all ${facts.words.unit.many}, how many have had ${article(facts.words.event.one)} for this by then? Those who die or have another ${facts.words.event.one} first stay in the count of all.`,
      risk: "crude",
      curves: curves.map((steps, style) => ({
        ...counted(steps, style),
        value: steps.incidence,
        low: steps.lower,
        high: steps.upper,
        competingAt: steps.competingAt,
      })),
      notes: [`Aalen–Johansen estimate; shaded: ${levelWords(facts.level)} interval.`],
      settings: { estimate: "cumulative incidence", ...incidence.settings },
    },
  ];
}

function netExhibit({ survival }: PoolEstimates, facts: PoolFacts): CurveExhibit {
  const oneMinus = (values: readonly (number | null)[]) =>
    values.map((value) => (value === null ? null : 1 - value));
  const ends = facts.competing.length === 0 ? "" : `; ${listed(facts.competing)} end observation`;
  return {
    ...common(facts),
    id: "net-risk",
    title: `${capital(facts.cause)}: net risk`,
    question: `How many would have had ${article(facts.words.event.one)} for this by then if nobody died or had another ${facts.words.event.one} first?`,
    risk: "net",
    curves: survival.groups.map((steps, style) => ({
      ...counted(steps, style),
      value: steps.survival.map((share) => 1 - share),
      low: oneMinus(steps.upper),
      high: oneMinus(steps.lower),
    })),
    notes: [`One minus the Kaplan–Meier estimate${ends}. Shaded: ${levelWords(facts.level)} interval.`],
    settings: { estimate: "one minus Kaplan–Meier", ...survival.settings },
  };
}

function common(facts: PoolFacts) {
  return {
    kind: "curves" as const,
    valueLabel: `Share of ${facts.words.unit.many}`,
    eventWord: facts.words.event.many,
    unitWord: facts.words.unit.many,
    timeUnit: facts.timeUnit,
    years: [...new Set([...TABLE_YEARS, ...facts.years])].sort((a, b) => a - b),
  };
}

/** What both kinds of curve have in common. */
function counted(steps: IncidenceSteps | SurvivalSteps, style: number) {
  const { group, cases, time, atRisk, eventsAt, censoredAt, drawnTo } = steps;
  return {
    label: group,
    style,
    key: keys.curve(EVENT_KEY, group),
    units: cases,
    time,
    atRisk,
    eventsAt,
    censoredAt,
    ...(drawnTo.computed ? { drawnTo: drawnTo.tick } : {}),
  } satisfies Partial<ExhibitCurve>;
}
