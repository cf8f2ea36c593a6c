import type { Exhibit } from "../../disclosure/exhibit.ts";
import type { Block, Figure } from "../../report/block.ts";
import type { StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import type { ClearedView } from "./view.ts";

/**
 * One part of the report: numbers before disclosure control, words and pictures after it.
 *
 * `blocks` sees cleared values only, so a number that was hidden cannot reach a sentence.
 */
export interface Section {
  readonly id: string;
  readonly title: (facts: StudyFacts) => string;
  readonly exhibits: (estimates: StudyEstimates, facts: StudyFacts) => readonly Exhibit[];
  readonly blocks: (view: ClearedView, facts: StudyFacts, figures: Figures) => readonly Block[];
}

/** Figures already drawn, by exhibit id. */
export type Figures = ReadonlyMap<string, Figure>;
