import { exhibitBlock } from "../../making/exhibit-block.ts";
import type { PoolSection } from "../pool-section.ts";
import { poolLogRank } from "./pool-log-rank.ts";
import { poolRates } from "./pool-rates.ts";
import { poolRisks } from "./pool-risks.ts";
import { independentWords } from "./pool-words.ts";

/** The groups beside each other: risks and differences, rates by period, one test. */
export const poolGroups: PoolSection = {
  id: "groups",
  title: () => "The groups compared",
  exhibits: (estimates, facts) => [
    poolRisks(estimates, facts),
    poolRates(estimates, facts),
    poolLogRank(estimates, facts),
  ],
  blocks: (view, facts, figures) => [
    {
      kind: "caution",
      text: `None of these numbers is adjusted for who the people and the sources were, and they are ${independentWords(facts)}.`,
    },
    ...exhibitBlock(view.table("risk-at-years"), figures),
    ...exhibitBlock(view.table("rates"), figures),
    ...exhibitBlock(view.table("log-rank"), figures),
  ],
};
