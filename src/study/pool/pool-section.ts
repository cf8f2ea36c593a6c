import type { Exhibit } from "../../disclosure/exhibit.ts";
import type { Block } from "../../report/block.ts";
import type { Figures } from "../making/section.ts";
import type { ClearedView } from "../making/view.ts";
import type { PoolEstimates } from "./pool-estimate.ts";
import type { PoolFacts } from "./pool-facts.ts";

/** One part of the report on pooled counts: numbers before disclosure control, words and pictures after it. */
export interface PoolSection {
  readonly id: string;
  readonly title: (facts: PoolFacts) => string;
  readonly exhibits: (estimates: PoolEstimates, facts: PoolFacts) => readonly Exhibit[];
  readonly blocks: (view: ClearedView, facts: PoolFacts, figures: Figures) => readonly Block[];
}

/** Stands for the event asked about in the keys of counts: labels of causes may hold any sign. */
export const EVENT_KEY = "event";
