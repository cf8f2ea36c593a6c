import type { StudyFacts } from "../facts.ts";

/** Parts of a report that can answer an item. */
export const ANSWERING_PARTS = [
  "question",
  "answer",
  "included",
  "covariates",
  "overTime",
  "effects",
  "adjusted",
  "sensitivity",
  "feasibility",
  "methods",
  "reproduce",
] as const;
export type AnsweringPart = (typeof ANSWERING_PARTS)[number];

/** Who answers an item: the report itself, or the author, whose text the report cannot write. */
export type ItemAnswer =
  | { readonly section: AnsweringPart; readonly filled?: string }
  | { readonly gap: string };

/** One item of a reporting checklist, asked in words of our own. */
export interface ChecklistItem {
  /** Number of the item in the published checklist. */
  readonly item: string;
  readonly asks: string;
  readonly answer: (facts: StudyFacts) => ItemAnswer;
}

/** The item is answered in a section of the report, and in short here where the run knows it. */
export function answered(
  section: AnsweringPart,
  filled?: (facts: StudyFacts) => string,
): ChecklistItem["answer"] {
  return (facts) => (filled === undefined ? { section } : { section, filled: filled(facts) });
}

export function gap(why: string): ItemAnswer {
  return { gap: why };
}

/** Only the author can write this. */
export const forAuthors: ChecklistItem["answer"] = () => gap("to be written by the authors");

/** Answered where the descriptor states it. */
export function stated(
  pick: (facts: StudyFacts) => string | undefined,
  section: AnsweringPart,
): ChecklistItem["answer"] {
  return (facts) => {
    const text = pick(facts);
    return text === undefined || text === ""
      ? gap("not stated in the descriptor")
      : { section, filled: text };
  };
}
