import { answered, type ChecklistItem, forAuthors, stated } from "./checklist.ts";

/**
 * What a report from routinely collected data should tell besides, after RECORD: Benchimol and others 2015. Items
 * paraphrased.
 */
export const RECORD: readonly ChecklistItem[] = [
  { item: "1.1", asks: "The kind of data and the name of the database", answer: forAuthors },
  { item: "1.2", asks: "Region and period", answer: forAuthors },
  { item: "1.3", asks: "Whether data sets were linked, in the title or summary", answer: forAuthors },
  {
    item: "6.1",
    asks: "The codes by which people were chosen",
    answer: answered("reproduce", () => "the rules with their codes stand in the plan"),
  },
  { item: "6.2", asks: "Whether those codes were checked against anything", answer: forAuthors },
  { item: "6.3", asks: "A flow of the linkage", answer: forAuthors },
  {
    item: "7.1",
    asks: "All codes of what is compared, outcomes and confounders",
    answer: answered("reproduce", () => "the descriptor and the plan, by their hashes"),
  },
  { item: "12.1", asks: "How much of the database was open to the authors", answer: forAuthors },
  {
    item: "12.2",
    asks: "How the data were cleaned",
    answer: answered("methods", ({ findings }) =>
      findings.groups.length === 0
        ? "the checks found nothing; no value is changed"
        : "findings are listed; no value is changed",
    ),
  },
  { item: "12.3", asks: "How and how well data sets were linked", answer: forAuthors },
  {
    item: "13.1",
    asks: "How people were left out for quality, availability or linkage",
    answer: answered("included"),
  },
  {
    item: "19.1",
    asks: "Wrong codes, confounders not measured, missing values, rules that drift",
    answer: answered("methods", () => "in general; for this export the authors"),
  },
  {
    item: "22.1",
    asks: "Where plan, data and program can be had",
    answer: stated(
      ({ hashes }) =>
        `plan ${hashes.plan.slice(0, 12)}, export ${hashes.export.slice(0, 12)}; the notebook is printed`,
      "reproduce",
    ),
  },
];
