import { capital } from "../../base/words.ts";
import type { TableExhibit } from "../../disclosure/exhibit.ts";
import { countCell, eventsTogether, keys, noCell, sized } from "../cells.ts";
import type { StudyEstimates } from "../estimates.ts";
import { exhibitBlock } from "../exhibit-block.ts";
import type { StudyFacts } from "../facts.ts";
import type { Section } from "../section.ts";
import { levelWords } from "../words.ts";

/** What an export of this size could have shown, whatever it did show. */
export const feasibility: Section = {
  id: "feasibility",
  title: () => "What this export could have found",
  exhibits: (estimates, facts) => [feasibilityExhibit(estimates, facts)],
  blocks: (view, facts, figures) => [
    ...exhibitBlock(view.table("feasibility"), figures),
    {
      kind: "prose",
      text: `The ratio follows from the number of ${facts.words.event.many} and the sizes of the groups alone, never from what was seen in each group. It takes every ${facts.words.unit.one} as independent and one ratio for all years. Where ${facts.words.unit.many} of one ${facts.clusters.by === "none" ? "group" : facts.clusters.by} are alike, or the ratio changes over the years, only a larger difference could have been seen.`,
    },
  ],
};

function feasibilityExhibit(estimates: StudyEstimates, facts: StudyFacts): TableExhibit {
  const { feasibility } = estimates;
  const groups = estimates.compared.map((group) => sized(keys.group(group.label), group));
  const together = eventsTogether(estimates.compared, facts.cause);
  const events = together.total;
  const restsOn = [events, ...groups];
  return {
    kind: "table",
    id: "feasibility",
    title: "Smallest ratio that had a fair chance of being seen",
    columns: [
      { id: "item", label: "Item" },
      { id: "value", label: "Value", align: "end" },
    ],
    rows: [
      {
        label: `${capital(facts.words.event.many)} for ${facts.cause}, groups together`,
        cells: [countCell(events)],
      },
      {
        label: "Share of the smaller group",
        cells: [
          feasibility.computed
            ? {
                kind: "number",
                value: 100 * Math.min(feasibility.exposedShare, 1 - feasibility.exposedShare),
                decimals: 0,
                suffix: " %",
                restsOn: groups,
              }
            : noCell(feasibility),
        ],
      },
      {
        label: `Smallest hazard ratio seen with ${feasibility.computed ? levelWords(feasibility.power) : "the stated"} chance`,
        cells: [
          feasibility.computed
            ? { kind: "number", value: feasibility.ratio, decimals: 1, restsOn }
            : noCell(feasibility),
        ],
      },
      {
        label: "The same with the lower rate in the first group",
        cells: [
          feasibility.computed
            ? { kind: "number", value: 1 / feasibility.ratio, decimals: 2, restsOn }
            : noCell(feasibility),
        ],
      },
    ],
    notes: [
      `Schoenfeld's formula, two-sided, level ${feasibility.computed ? Number(feasibility.level.toPrecision(2)) : "as planned"} (${facts.plan.plannedComparisons ?? 1} planned comparison${(facts.plan.plannedComparisons ?? 1) === 1 ? "" : "s"} in all).`,
    ],
    relations: [together],
  };
}
