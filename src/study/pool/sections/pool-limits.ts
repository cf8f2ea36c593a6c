import type { TableExhibit } from "../../../disclosure/exhibit.ts";
import { exhibitBlock } from "../../making/exhibit-block.ts";
import type { PoolFacts } from "../pool-facts.ts";
import type { PoolSection } from "../pool-section.ts";

/** What needs the rows, named one by one so that nobody takes it for forgotten. */
export const poolLimits: PoolSection = {
  id: "limits",
  title: () => "What counts cannot answer",
  exhibits: (_estimates, facts) => [limitsExhibit(facts)],
  blocks: (view, _facts, figures) => exhibitBlock(view.table("limits"), figures),
};

function limitsExhibit({ words }: PoolFacts): TableExhibit {
  const unit = words.unit.one;
  const needs: readonly (readonly [string, string])[] = [
    [
      "Intervals and tests clustered by surgeon or patient",
      `who operated on a ${unit}, and whose it is, is not in counts`,
    ],
    [`Two ${words.unit.many} of one person`, "nobody can be linked, within a source or between two"],
    ["Completeness of follow-up", `it needs the follow-up that each ${unit} could have had`],
    ["Covariate table and standardised differences", "counts hold groups and strata alone"],
    ["Adjusted comparison, regression and its checks", `they need the covariates of each ${unit}`],
    ["Expected numbers by age", "they need each person's age and calendar time"],
  ];
  return {
    kind: "table",
    id: "limits",
    title: "Asked of rows, not of counts",
    columns: [
      { id: "item", label: "Item" },
      { id: "answer", label: "Answer" },
    ],
    rows: needs.map(([label, why]) => ({
      label,
      cells: [{ kind: "none", because: `cannot be computed from counts: ${why}` }],
    })),
  };
}
