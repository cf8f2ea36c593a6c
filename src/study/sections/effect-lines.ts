import { yearsOfTicks } from "../../base/time-unit.ts";
import type { LineExhibit } from "../../disclosure/exhibit.ts";
import type { Adjusted } from "../estimates/estimates.ts";
import { firstOver } from "../estimates/first-over.ts";
import type { StudyFacts } from "../facts.ts";
import { levelWords } from "../words.ts";

/** How the ratio goes over the years: smoothed, with the ratios of the periods as steps. */
export function effectLinesExhibit(
  { checks: check, alone, adjusted, groupTerm }: Adjusted,
  facts: StudyFacts,
): readonly LineExhibit[] {
  const checks = check();
  if (!checks.computed) return [];
  const model = adjusted.computed ? adjusted : alone;
  const smoothed = checks.effects.flatMap((effect) => (effect.computed ? [effect] : []));
  if (smoothed.length === 0) return [];
  const lastYear = Math.max(
    ...smoothed.flatMap(({ effect }) => effect.map(({ tick }) => yearsOfTicks(tick, facts.timeUnit))),
  );
  return [
    {
      kind: "lines",
      id: "effect-over-time",
      title: `How the hazard ratio goes over the years${adjusted.computed ? ", adjusted" : ""}`,
      question: "Is one ratio over all years a fair summary, or does it hide a change?",
      across: "Years of follow-up",
      up: `Hazard ratio, ${facts.groups[0]} over the other`,
      scale: "ratio",
      of: "comparisons",
      drawing: "joined points",
      lines: facts.groups.slice(1).flatMap((other, at) => {
        const effect = smoothed.find(
          ({ column }) => column === `${groupTerm}: ${other} against ${facts.groups[0]}`,
        );
        if (effect === undefined) return [];
        return [
          {
            label: `${facts.groups[0]} over ${other}`,
            style: at,
            x: effect.effect.map(({ tick }) => yearsOfTicks(tick, facts.timeUnit)),
            y: effect.effect.map(({ ratio }) => 1 / ratio),
            low: effect.effect.map(({ upper }) => 1 / upper),
            high: effect.effect.map(({ lower }) => 1 / lower),
          },
          ...periodLine(other, at),
        ];
      }),
      notes: [
        `Smoothed scaled Schoenfeld residuals with pointwise ${levelWords(facts.level)} limits of the model, which take every ${facts.words.unit.one} as independent: a picture for the eye. Thin: the ratios by period, upright their limits.`,
      ],
      settings: { ...(smoothed[0]?.settings ?? {}) },
    },
  ];

  function periodLine(other: string, at: number) {
    if (!model.computed || !model.byPeriod.computed) return [];
    const steps = model.byPeriod.periods.flatMap(({ after, upTo, columns }) => {
      const ratio = firstOver(columns, groupTerm, facts.groups, at + 1);
      const from = after < 0 ? 0 : yearsOfTicks(after, facts.timeUnit);
      const to = upTo === null ? lastYear : Math.min(lastYear, yearsOfTicks(upTo, facts.timeUnit));
      return ratio.computed && to > from ? [{ from, to, ...ratio }] : [];
    });
    if (steps.length === 0) return [];
    return [
      {
        label: facts.groups.length === 2 ? "by period" : `by period, over ${other}`,
        style: at,
        thin: true as const,
        pieces: true as const,
        x: steps.flatMap(({ from, to }) => [from, to]),
        y: steps.flatMap(({ ratio }) => [ratio, ratio]),
        low: steps.flatMap(({ lower }) => [lower, lower]),
        high: steps.flatMap(({ upper }) => [upper, upper]),
      },
    ];
  }
}
