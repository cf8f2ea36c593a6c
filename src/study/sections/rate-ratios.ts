import type { TableExhibit } from "../../disclosure/exhibit.ts";
import type { StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { levelWords } from "../words.ts";
import { keys, limitsCell, noCell, sized } from "./cells.ts";

/** Rates over all years as ratios with exact limits, which hold however few the events are. */
export function rateRatioExhibit(estimates: StudyEstimates, facts: StudyFacts): TableExhibit {
  return {
    kind: "table",
    id: "rate-ratios",
    title: "Ratio of rates over all years",
    columns: [
      { id: "pair", label: "Groups" },
      { id: "ratio", label: `Ratio (${levelWords(facts.level)} interval)`, align: "end" },
      { id: "p", label: "p", align: "end" },
    ],
    rows: estimates.rateRatios.map(({ groups, comparison }) => {
      const label = groups.map((group) => facts.groups[group]).join(" over ");
      if (!comparison.computed) return { label, cells: [noCell(comparison), noCell(comparison)] };
      const restsOn = groups.flatMap((group) => {
        const size = estimates.compared[group];
        return size === undefined
          ? []
          : [sized(keys.events(facts.cause, size.label), size.events), sized(keys.group(size.label), size)];
      });
      const { ratio, lower, upper, p } = comparison;
      return {
        label,
        cells: [
          !ratio.computed
            ? noCell(ratio)
            : !upper.computed
              ? noCell(upper)
              : limitsCell([ratio.value, lower, upper.value], 2, restsOn),
          { kind: "pValue", p, restsOn },
        ],
      };
    }),
    notes: [
      `Exact limits, given the number of ${facts.words.event.many} in both groups together; every ${facts.words.unit.one} taken as independent. One ratio over all years hides change: read it beside the rates by period.`,
    ],
    settings: { level: facts.level, method: "exact" },
  };
}
