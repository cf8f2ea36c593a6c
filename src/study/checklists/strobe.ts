import { numbered } from "../../base/words.ts";
import type { StudyFacts } from "../facts.ts";
import { whenStated } from "../locking/when-stated.ts";
import { cutWords } from "../sections/cut-words.ts";
import { isStepExposure } from "../sections/exposure-kind.ts";
import { listed } from "../words.ts";
import { answered, type ChecklistItem, forAuthors, gap, stated } from "./checklist.ts";

/**
 * What a report of a cohort should tell, after STROBE: von Elm and others 2007. Items paraphrased; the parts of an item
 * stand by themselves.
 */
export const STROBE: readonly ChecklistItem[] = [
  { item: "1a", asks: "The design named in the title or the abstract", answer: forAuthors },
  {
    item: "1b",
    asks: "A balanced summary",
    answer: answered("answer", () => "the brief; no abstract is written"),
  },
  { item: "2", asks: "Why the question matters", answer: forAuthors },
  {
    item: "3",
    asks: "The aim, and what was expected beforehand",
    answer: answered(
      "question",
      ({ plan, planLock }) =>
        `smallest difference that matters: ${plan.smallestDifferenceThatMatters.per1000} per 1000, ${whenStated(planLock)}`,
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
    item: "6a",
    asks: "Who entered, and how they were followed",
    answer: answered("included", ({ plan }) =>
      plan.eligibility.length === 0 ? "no rule" : listed(plan.eligibility.map(({ label }) => label)),
    ),
  },
  { item: "6b", asks: "If matched, by what", answer: answered("methods", () => "nobody was matched") },
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
  {
    item: "9",
    asks: "What was done about bias",
    answer: (facts) =>
      isStepExposure(facts)
        ? {
            section: "included",
            filled: "blank is never “no”, late records count as not recorded; the rest: the authors",
          }
        : gap("to be written by the authors"),
  },
  {
    item: "10",
    asks: "How the size of the study arose",
    answer: answered("feasibility", () => "all rows of the export that the rules keep"),
  },
  {
    item: "11",
    asks: "How numbers were handled, and why grouped as they were",
    answer: answered("methods", curvesOf),
  },
  {
    item: "12a",
    asks: "Methods, those against confounding too",
    answer: answered("methods", ({ plan }) =>
      plan.adjusters === undefined ? "nothing is adjusted for" : "adjusters with their reasons",
    ),
  },
  {
    item: "12b",
    asks: "How subgroups and interactions were looked at",
    answer: answered("adjusted", () => "by declared period; no subgroup"),
  },
  {
    item: "12c",
    asks: "What was done about missing values",
    answer: answered("methods", () => "counted; left out of models"),
  },
  { item: "12d", asks: "How loss was dealt with", answer: answered("methods", () => "where follow-up ends") },
  {
    item: "12e",
    asks: "Sensitivity analyses",
    answer: answered("sensitivity", () => "in the analysts' copy"),
  },
  { item: "13a", asks: "Numbers at each stage", answer: answered("included") },
  { item: "13b", asks: "Why people left at each stage", answer: answered("included") },
  { item: "13c", asks: "A flow diagram", answer: answered("included") },
  { item: "14a", asks: "Who they were", answer: answered("covariates") },
  {
    item: "14b",
    asks: "How many values of each variable are missing",
    answer: answered("covariates"),
  },
  { item: "14c", asks: "How long they were followed", answer: answered("included") },
  { item: "15", asks: "Events over time", answer: answered("overTime") },
  {
    item: "16a",
    asks: "Estimates before and after adjustment with intervals, and why adjusted so",
    answer: ({ plan }) =>
      plan.adjusters === undefined
        ? gap("the plan names nothing to adjust for")
        : { section: "adjusted", filled: reasonsOf(plan.adjusters.length) },
  },
  {
    item: "16b",
    asks: "Where numbers were cut into groups, the cuts",
    answer: answered("methods", (facts) => {
      const cuts = cutWords(facts);
      return cuts.length === 0 ? "no number is cut" : listed(cuts);
    }),
  },
  {
    item: "16c",
    asks: "Absolute beside relative risk",
    answer: answered(
      "effects",
      ({ plan }) => `differences per 1000 at ${numbered(listed(plan.years.map(String)), "year")}`,
    ),
  },
  {
    item: "17",
    asks: "Other analyses",
    answer: answered(
      "sensitivity",
      ({ comparisons }) =>
        `in the analysts' copy; ${comparisons} planned comparison${comparisons === 1 ? "" : "s"} in all`,
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

function reasonsOf(adjusters: number): string {
  return adjusters === 1 ? "1 adjuster, with its reason" : `${adjusters} adjusters, each with its reason`;
}

/** Which numbers enter the models as curves; the others as straight lines. */
function curvesOf({ plan }: StudyFacts): string {
  const curves = (plan.adjusters ?? [])
    .filter(({ curve }) => curve)
    .map(({ field }) => field.replace(/^role:/, ""));
  return curves.length === 0
    ? "as numbers; no model cuts one into groups"
    : `as numbers; as a curve: ${listed(curves)}`;
}
