import { roundDecimals } from "../../base/display.ts";
import type { Adjusted } from "../estimates/estimates.ts";
import { firstOver } from "../estimates/first-over.ts";
import type { StudyFacts } from "../facts.ts";

/** A period in which a group has had fewer says nothing about a side, to anybody. */
const FEWEST_EVENTS = 5;

/** Whether the ratios of one model's periods, as they are printed, lie on both sides of 1 for some pair of groups. */
export function periodsDisagree({ alone, adjusted, rows, groupTerm }: Adjusted, facts: StudyFacts): boolean {
  const enough = (group: number, period: number) =>
    (rows.sizes[group]?.eventsByPeriod[period]?.units ?? 0) >= FEWEST_EVENTS;
  return facts.groups.slice(1).some((_label, at) =>
    [alone, adjusted].some((model) => {
      if (!model.computed || !model.byPeriod.computed) return false;
      const sides = model.byPeriod.periods.flatMap(({ columns }, period) => {
        const found = firstOver(columns, groupTerm, facts.groups, at + 1);
        const isTold = found.computed && enough(0, period) && enough(at + 1, period);
        return isTold ? [Math.sign(roundDecimals(found.ratio, 2) - 1)] : [];
      });
      return sides.includes(1) && sides.includes(-1);
    }),
  );
}
