import { capital } from "../../base/words.ts";
import type { CurveExhibit, ExhibitCurve } from "../../disclosure/exhibit.ts";
import type { IncidenceSteps, SurvivalSteps } from "../../survival/results.ts";
import type { StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { exhibitBlock, picturedBlock } from "../making/exhibit-block.ts";
import type { Section } from "../making/section.ts";
import { article, levelWords, listed } from "../words.ts";
import { besideEachOther } from "./beside.ts";
import { keys } from "./cells.ts";
import { outcomesAtYearsExhibit } from "./outcomes-at-years.ts";

/** Years at which the table under a curve stands. */
const TABLE_YEARS = [0, 1, 3, 5, 10, 15];

/** The event over time, as it happens to people and as it would be if nothing else came first. */
export const overTime: Section = {
  id: "over-time",
  title: (facts) => `${capital(facts.words.event.one)} over time`,
  exhibits: (estimates, facts) => [
    ...crudeExhibit(estimates, facts),
    netExhibit(estimates, facts),
    ...outcomesAtYearsExhibit(estimates, facts),
  ],
  blocks: (view, facts, figures) => [
    ...exhibitBlock(view.curves("crude-risk"), figures),
    ...(facts.crude.computed
      ? []
      : [
          {
            kind: "caution" as const,
            text: `Crude risk is not given: ${facts.crude.because}.`,
          },
        ]),
    ...exhibitBlock(view.curves("net-risk"), figures),
    ...besideEachOther(figures),
    ...picturedBlock(view.table("outcomes-at-years"), figures),
    {
      kind: "prose",
      text: `Crude risk is what happens to people, so it belongs to planning and to talking with them. Net risk asks about ${facts.descriptor.study.cementedKnees ? "the implant and its fixation" : "this outcome"} alone. Neither is more right; they answer different questions.`,
    },
  ],
};

function crudeExhibit(estimates: StudyEstimates, facts: StudyFacts): readonly CurveExhibit[] {
  const { incidence } = estimates;
  if (!incidence.computed) return [];
  const curves = incidence.curves.filter((curve) => curve.cause === facts.cause);
  return [
    {
      ...common(facts),
      id: "crude-risk",
      title: `${capital(facts.cause)}: crude risk`,
      question: `Out of all ${facts.words.unit.many}, how many have had ${article(facts.words.event.one)} for this by then? Those who die or have another ${facts.words.event.one} first stay in the count of all.`,
      risk: "crude",
      valueLabel: `Share of ${facts.words.unit.many}`,
      curves: curves.map((curve, at) => crudeCurve(curve, at, facts)),
      notes: [`Aalen–Johansen estimate; shaded: ${levelWords(facts.level)} interval.`],
      settings: { estimate: "cumulative incidence", ...incidence.settings },
    },
  ];
}

function netExhibit(estimates: StudyEstimates, facts: StudyFacts): CurveExhibit {
  const { survival } = estimates;
  return {
    ...common(facts),
    id: "net-risk",
    title: `${capital(facts.cause)}: net risk`,
    question: `How many would have had ${article(facts.words.event.one)} for this by then if nobody died or had another ${facts.words.event.one} first?`,
    risk: "net",
    valueLabel: `Share of ${facts.words.unit.many}`,
    curves: survival.groups.map((steps, at) => netCurve(steps, at, facts)),
    notes: [
      `One minus the Kaplan–Meier estimate; ${listed(facts.competing)} end observation. Shaded: ${levelWords(facts.level)} interval.`,
    ],
    settings: { estimate: "one minus Kaplan–Meier", ...survival.settings },
  };
}

function common(facts: StudyFacts) {
  return {
    kind: "curves" as const,
    eventWord: facts.words.event.many,
    unitWord: facts.words.unit.many,
    timeUnit: facts.timeUnit,
    years: [...new Set([...TABLE_YEARS, ...facts.plan.years])].sort((a, b) => a - b),
  };
}

function crudeCurve(steps: IncidenceSteps, style: number, facts: StudyFacts): ExhibitCurve {
  return {
    label: steps.group,
    style,
    key: keys.curve(facts.cause, steps.group),
    units: steps.cases,
    time: steps.time,
    value: steps.incidence,
    low: steps.lower,
    high: steps.upper,
    atRisk: steps.atRisk,
    eventsAt: steps.eventsAt,
    censoredAt: steps.censoredAt,
    competingAt: steps.competingAt,
    ...(steps.drawnTo.computed ? { drawnTo: steps.drawnTo.tick } : {}),
  };
}

function netCurve(steps: SurvivalSteps, style: number, facts: StudyFacts): ExhibitCurve {
  const oneMinus = (values: readonly (number | null)[]) =>
    values.map((value) => (value === null ? null : 1 - value));
  return {
    label: steps.group,
    style,
    key: keys.curve(facts.cause, steps.group),
    units: steps.cases,
    time: steps.time,
    value: steps.survival.map((value) => 1 - value),
    low: oneMinus(steps.upper),
    high: oneMinus(steps.lower),
    atRisk: steps.atRisk,
    eventsAt: steps.eventsAt,
    censoredAt: steps.censoredAt,
    ...(steps.drawnTo.computed ? { drawnTo: steps.drawnTo.tick } : {}),
  };
}
