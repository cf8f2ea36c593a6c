import { UsageError } from "../../base/errors.ts";
import type { Cases } from "../../cases/cases.ts";
import type { Cell, Exhibit } from "../../disclosure/exhibit.ts";
import type { Block } from "../../report/block.ts";
import type { StudyEstimates } from "../estimates/estimates.ts";
import type { SafeFacts } from "../facts.ts";
import type { StudyObservations } from "../observations.ts";
import type { Figures } from "./section.ts";
import type { ClearedView } from "./view.ts";

/** What a run hands to the sections of its notebook, before disclosure control. */
export interface StudyMaterial {
  readonly cases: Cases;
  /** The rows that are compared, with their group, time and outcome. */
  readonly compared: StudyObservations;
  readonly estimates: StudyEstimates;
  readonly facts: SafeFacts;
}

/** A section that a notebook brings with it. It stands before the methods. */
export interface OwnSection {
  /** Lower-case words joined by hyphens, unlike the id of any other section. */
  readonly id: string;
  readonly title: string;
  /**
   * Tables, curves and flows of its own. They pass disclosure control with all others of the report, so every number must
   * name the counts it rests on, and a count that stands elsewhere must have the same key (`countKeys`).
   */
  readonly exhibits?: (material: StudyMaterial) => readonly Exhibit[];
  /**
   * Words and exhibits, from what is handed in alone: cleared values, and facts without a count, so that a number that was
   * hidden cannot reach a sentence. What `exhibits` kept elsewhere was not cleared.
   */
  readonly blocks: (view: ClearedView, figures: Figures, facts: SafeFacts) => readonly Block[];
}

/**
 * Exhibits of a notebook's own sections.
 *
 * @throws UsageError where a number for others than analysts names no count: disclosure control could not judge it.
 */
export function ownExhibits(sections: readonly OwnSection[], material: StudyMaterial): readonly Exhibit[] {
  return sections.flatMap((section) =>
    (section.exhibits?.(material) ?? []).map((exhibit) => {
      if (!namesCounts(exhibit)) throw withoutCounts(section, exhibit);
      // What its numbers are numbers of is written in the notebook, not in the plan.
      return exhibit.kind === "for analysts" ? exhibit : { ...exhibit, fresh: true };
    }),
  );
}

function namesCounts(exhibit: Exhibit): boolean {
  // Curves and flows are made of counts, and what is for analysts alone need not say what it rests on.
  if (exhibit.kind !== "table") return true;
  return exhibit.rows.every((row) => row.cells.every(cellNamesCounts));
}

function cellNamesCounts(cell: Cell): boolean {
  return !("restsOn" in cell) || cell.kind === "none" || cell.restsOn.length > 0;
}

function withoutCounts({ id }: OwnSection, exhibit: Exhibit): UsageError {
  return new UsageError(
    "rests-on-nothing",
    `sections "${id}": the table "${exhibit.id}" has a number that names no count it rests on; ` +
      'give restsOn, or show it to analysts alone in { kind: "for analysts", … }',
  );
}
