/** Headings of the brief. */
export const BRIEF_TITLES = {
  question: "The question",
  answer: "The answer",
  couldFind: "What this export could have shown",
  groups: "The groups over the years",
  cautions: "Before anyone acts on this",
  decision: "The committee's decision",
  words: "Words used",
} as const;

/** Where the cautions stand on the page. */
export const CAUTIONS_ID = "cautions";
