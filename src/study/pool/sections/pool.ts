import { count } from "../../../base/display.ts";
import type { Block } from "../../../report/block.ts";
import type { ClearedView } from "../../making/view.ts";
import { riskRowLabel, yearWords } from "../../words.ts";
import type { PoolFacts } from "../pool-facts.ts";
import type { PoolSection } from "../pool-section.ts";
import { poolGroups } from "./pool-groups.ts";
import { poolLimits } from "./pool-limits.ts";
import { poolCautions, poolMethods } from "./pool-methods.ts";
import { poolOverTime } from "./pool-over-time.ts";
import { poolSources } from "./pool-sources.ts";
import { independentWords } from "./pool-words.ts";

/** Parts of the report on pooled counts after the brief, in reading order. */
export const POOL_SECTIONS: readonly PoolSection[] = [
  poolSources,
  poolOverTime,
  poolGroups,
  poolLimits,
  poolMethods,
];

/**
 * The first page: what was added, the risk in each group, the cautions.
 *
 * No comparison of groups: an interval that is not clustered never reaches a brief.
 */
export function poolBrief(view: ClearedView, facts: PoolFacts): Block[] {
  const sources = facts.descriptors.length;
  return [
    {
      kind: "prose",
      text: `Counts of ${sources === 1 ? "one source were read" : `${count(sources)} sources were added`}. No row of a ${facts.words.unit.one} was seen here.`,
    },
    { kind: "list", items: facts.years.map((year) => groupRisks(view, facts, year)) },
    {
      kind: "caution",
      text: `Whether the groups differ is not answered on this page. Intervals and tests from counts are ${independentWords(facts)}; an answer for a committee needs a study on the rows.`,
    },
    poolCautions(facts),
  ];
}

/** "At 10 years, per 1000 knees: a 10.2 (7.3 to 14.2); b about 10 (6 to 14)." */
function groupRisks(view: ClearedView, facts: PoolFacts, year: number): string {
  const risk = facts.crude.computed ? "crude" : "net";
  const net = risk === "net" ? ", if nobody died or had another reason first" : "";
  const parts = facts.groups.map((group, at) => {
    const cell = view.cell("risk-at-years", riskRowLabel(risk, year), `group-${at}`);
    return `${group} ${cell === undefined || cell.values.length === 0 ? `not given (${cell?.text || "not computed"})` : cell.text}`;
  });
  return `At ${yearWords(year)}, per 1000 ${facts.words.unit.many}${net}: ${parts.join("; ")}.`;
}
