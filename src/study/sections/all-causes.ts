import type { TableExhibit } from "../../disclosure/exhibit.ts";
import type { Adjusted } from "../estimates/estimates.ts";
import { firstOver } from "../estimates/first-over.ts";
import type { StudyFacts } from "../facts.ts";
import { clusterWords, levelWords } from "../words.ts";
import { limitsCell, noCell } from "./cells.ts";

/** The same model for every cause side by side: a step that changes one cause may change another. */
export function allCausesExhibit({ causes, groupTerm, adjusted }: Adjusted, facts: StudyFacts): TableExhibit {
  return {
    kind: "table",
    id: "all-causes",
    title: `Hazard ratios for every cause, ${adjusted.computed ? "adjusted" : "groups alone"}`,
    columns: [
      { id: "cause", label: "Cause" },
      ...facts.groups.slice(1).map((other, at) => ({
        id: `pair-${at}`,
        label: `${facts.groups[0]} over ${other} (${levelWords(facts.level)} interval)`,
        align: "end" as const,
      })),
    ],
    rows: causes().map(({ cause, fit }) => ({
      label: cause,
      cells: facts.groups.slice(1).map((_, at) => {
        if (!fit.computed) return noCell(fit);
        const ratio = firstOver(fit.columns, groupTerm, facts.groups, at + 1);
        return ratio.computed ? limitsCell([ratio.ratio, ratio.lower, ratio.upper], 2, []) : noCell(ratio);
      }),
    })),
    notes: [`Each cause by itself, the others end observation. Intervals: ${clusterWords(facts)}.`],
  };
}
