import { yearsOfTicks } from "../../base/time-unit.ts";
import type { ExhibitLine, LineExhibit } from "../../disclosure/exhibit.ts";
import type { CumulativeIncidence, IncidenceSteps } from "../../survival/results.ts";
import type { StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";

/** What has become of each group by then: every outcome on top of the others. */
export function allOutcomesExhibits(
  { incidence }: StudyEstimates,
  facts: StudyFacts,
): readonly LineExhibit[] {
  if (!incidence.computed) return [];
  return facts.groups.flatMap((group, at) => {
    const lines = stacked(incidence, group, facts);
    if (lines.length === 0) return [];
    return [
      {
        kind: "lines" as const,
        id: `all-outcomes-${at + 1}`,
        title: `What had become of them: ${group}`,
        question: "Out of 100, how many had which outcome first by then?",
        across: "Years of follow-up",
        up: "Per cent",
        scale: "amount" as const,
        of: "outcomes" as const,
        drawing: "steps" as const,
        lines,
        notes: [
          "Aalen–Johansen estimates of all outcomes on top of each other, without intervals. Up to 100 the rest had none of these.",
        ],
        settings: { estimate: "cumulative incidence of all outcomes" },
      },
    ];
  });
}

function stacked(incidence: CumulativeIncidence, group: string, facts: StudyFacts): ExhibitLine[] {
  const curves = incidence.curves.filter((curve) => curve.group === group);
  const [first] = curves;
  if (first === undefined || !first.drawnTo.computed) return [];
  // The causes of a group share their ticks.
  const last = first.drawnTo.tick;
  const ticks = first.time.flatMap((tick, at) => (tick <= last ? [{ tick, at }] : []));
  const x = [
    0,
    ...ticks.map(({ tick }) => yearsOfTicks(tick, facts.timeUnit)),
    yearsOfTicks(last, facts.timeUnit),
  ];
  let floor = x.map(() => 0);
  const shares = curves.map((curve, style) => {
    const top = add(floor, heights(curve, ticks));
    const line = band(curve.cause, style, x, floor, top);
    floor = top;
    return line;
  });
  return shares;
}

function heights({ incidence }: IncidenceSteps, ticks: readonly { readonly at: number }[]): number[] {
  const values = ticks.map(({ at }) => 100 * (incidence[at] ?? 0));
  return [0, ...values, values.at(-1) ?? 0];
}

function add(a: readonly number[], b: readonly number[]): number[] {
  return a.map((value, at) => value + (b[at] ?? 0));
}

function band(label: string, style: number, x: number[], low: number[], high: number[]): ExhibitLine {
  return { label, style, share: true, thin: true, x, y: high, low, high };
}
