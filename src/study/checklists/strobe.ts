import { listed } from "../words.ts";
import { answered, type ChecklistItem, forAuthors, stated } from "./checklist.ts";

/**
 * What a report of a cohort should tell, after STROBE: von Elm and others 2007. Items paraphrased.
 */
export const STROBE: readonly ChecklistItem[] = [
  { item: "1", asks: "The design in the title, and a balanced summary", answer: forAuthors },
  { item: "2", asks: "Why the question matters", answer: forAuthors },
  {
    item: "3",
    asks: "The aim, and what was expected beforehand",
    answer: answered(
      "question",
      ({ plan }) =>
        `smallest difference that matters: ${plan.smallestDifferenceThatMatters.per1000} per 1,000, set beforehand`,
    ),
  },
  { item: "4", asks: "The design, early in the text", answer: answered("methods") },
  {
    item: "5",
    asks: "Place and dates",
    answer: stated(
      ({ descriptor }) =>
        descriptor.study.dataCut && `data to ${descriptor.study.dataCut}; the place is the authors' to name`,
      "reproduce",
    ),
  },
  {
    item: "6",
    asks: "Who entered and how they were followed",
    answer: answered("included", ({ plan }) =>
      plan.eligibility.length === 0 ? "no rule" : listed(plan.eligibility.map(({ label }) => label)),
    ),
  },
  {
    item: "7",
    asks: "Outcomes, what is compared, and what may confuse the comparison, defined",
    answer: answered(
      "methods",
      ({ cause, exposureTitle, plan }) =>
        `${cause}; ${exposureTitle}; ${plan.covariates.length} covariates named in the plan`,
    ),
  },
  {
    item: "8",
    asks: "Where each value comes from, and that it was measured alike in all groups",
    answer: answered("reproduce", () => "the descriptor, by its hash; alike in all groups: the authors"),
  },
  { item: "9", asks: "What was done about bias", answer: answered("methods") },
  {
    item: "10",
    asks: "How the size of the study arose",
    answer: answered("feasibility", () => "all rows of the export that the rules keep"),
  },
  {
    item: "11",
    asks: "How numbers were handled, and why grouped as they were",
    answer: answered("covariates"),
  },
  {
    item: "12",
    asks: "Methods: confounding, subgroups, missing values, loss, sensitivity",
    answer: answered("methods"),
  },
  {
    item: "13",
    asks: "Numbers at each stage, reasons for leaving, a flow diagram",
    answer: answered("included"),
  },
  {
    item: "14",
    asks: "Who they were, what is missing of each value, how long they were followed",
    answer: answered("covariates", () => "follow-up: “Who was included”"),
  },
  { item: "15", asks: "Events over time", answer: answered("overTime") },
  {
    item: "16",
    asks: "Estimates before and after adjustment with intervals; absolute risk",
    answer: ({ plan }) =>
      plan.adjusters === undefined
        ? { gap: "the plan names nothing to adjust for" }
        : { section: "adjusted", filled: `${plan.adjusters.length} adjusters, each with its reason` },
  },
  {
    item: "17",
    asks: "Other analyses",
    answer: answered(
      "sensitivity",
      ({ plan }) => `in the analysts' copy; ${plan.plannedComparisons ?? 1} planned comparison(s) in all`,
    ),
  },
  { item: "18", asks: "The main result against the aim", answer: answered("answer") },
  { item: "19", asks: "Limits, with size and direction of bias", answer: forAuthors },
  { item: "20", asks: "A cautious reading of it all", answer: forAuthors },
  { item: "21", asks: "Whether it holds elsewhere", answer: forAuthors },
  {
    item: "22",
    asks: "Funding, and what the funder did",
    answer: stated(({ descriptor }) => descriptor.study.governance.funding, "reproduce"),
  },
];
