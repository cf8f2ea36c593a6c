import type { LineExhibit } from "../../disclosure/exhibit.ts";
import type { Adjusted } from "../estimates/estimates.ts";
import { firstOver } from "../estimates/first-over.ts";
import type { StudyFacts } from "../facts.ts";

/** With more units than these no single one is worth a place on the axis. */
const MOST_UNITS = 500;

/** The ratio without each surgeon in turn: does one of them carry the answer? Nobody is named. */
export function influenceLinesExhibit(
  { checks, alone, adjusted, groupTerm }: Adjusted,
  facts: StudyFacts,
): readonly LineExhibit[] {
  const found = checks();
  const model = adjusted.computed ? adjusted : alone;
  if (!found.computed || !found.influence.computed || !model.computed) return [];
  const { by, columns, change } = found.influence;
  const units = change[0]?.length ?? 0;
  if (units < 2 || units > MOST_UNITS) return [];
  const lines = facts.groups.slice(1).flatMap((other, at) => {
    const ratio = firstOver(model.fit.columns, groupTerm, facts.groups, at + 1);
    const moved = change[columns.indexOf(`${groupTerm}: ${other} against ${facts.groups[0]}`)];
    if (!ratio.computed || moved === undefined) return [];
    // The model has the other group over the first: what a unit adds there it takes away here.
    const without = moved.map((one) => Math.log(ratio.ratio) + one).sort((a, b) => a - b);
    const pair = `${facts.groups[0]} over ${other}`;
    return [
      {
        label: `${pair}, without one`,
        style: at,
        x: without.map((_, place) => place + 1),
        y: without.map((log) => Math.exp(log)),
      },
      { label: `${pair}, all`, style: at, thin: true as const, x: [1, units], y: [ratio.ratio, ratio.ratio] },
    ];
  });
  if (lines.length === 0) return [];
  return [
    {
      kind: "lines",
      id: "influence",
      title: `The hazard ratio without each ${by} in turn`,
      question: `Does a single ${by} carry the answer?`,
      across: `Which ${by} is left out, from the lowest ratio to the highest`,
      up: "Hazard ratio",
      scale: "ratio",
      of: "comparisons",
      drawing: "joined points",
      lines,
      notes: [
        `First order, from each ${by}'s share of the score: no model was fitted again. Thin: with everybody. A jump at an end is one ${by} who moves the answer.`,
      ],
    },
  ];
}
