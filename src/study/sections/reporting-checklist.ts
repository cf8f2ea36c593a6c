import type { TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { AnsweringPart, ChecklistItem } from "../checklists/checklist.ts";
import { RECORD } from "../checklists/record.ts";
import { STROBE } from "../checklists/strobe.ts";
import type { StudyFacts } from "../facts.ts";
import { exhibitBlock } from "../making/exhibit-block.ts";
import type { Section } from "../making/section.ts";
import { adjusted } from "./adjusted.ts";
import { BRIEF_TITLES } from "./brief-titles.ts";
import { textCell } from "./cells.ts";
import { covariateSection } from "./covariates.ts";
import { effects } from "./effects.ts";
import { feasibility } from "./feasibility.ts";
import { included } from "./included.ts";
import { methods } from "./methods.ts";
import { overTime } from "./over-time.ts";
import { reproduce } from "./reproduce.ts";
import { sensitivity } from "./sensitivity.ts";

/** Which part of the report answers which item of the reporting checklists; gaps are shown as gaps. */
export const reportingChecklist: Section = {
  id: "checklist",
  title: () => "Reporting checklists",
  exhibits: (_estimates, facts) => [checklistExhibit(facts)],
  blocks: (view, _facts, figures) => [
    {
      kind: "prose",
      text: "What a reader of such a study should be told, and where this report tells it. Items in our own words. A gap is for the authors to fill: the report cannot know it.",
    },
    ...exhibitBlock(view.table("checklist"), figures),
  ],
};

/** Taken from the parts themselves, so that no name can go out of date. */
const TITLES: Readonly<Record<AnsweringPart, (facts: StudyFacts) => string>> = {
  question: () => BRIEF_TITLES.question,
  answer: () => BRIEF_TITLES.answer,
  included: included.title,
  covariates: covariateSection.title,
  overTime: overTime.title,
  effects: effects.title,
  adjusted: adjusted.title,
  sensitivity: sensitivity.title,
  feasibility: feasibility.title,
  methods: methods.title,
  reproduce: reproduce.title,
};

function checklistExhibit(facts: StudyFacts): TableExhibit {
  return {
    kind: "table",
    id: "checklist",
    title: "Items of the checklists and where they are answered",
    columns: [
      { id: "item", label: "Item" },
      { id: "asks", label: "Asks for" },
      { id: "where", label: "Answered under" },
      { id: "known", label: "Known from this run" },
    ],
    rows: [
      { label: "STROBE, cohort studies", heading: true, cells: [] },
      ...STROBE.map((item) => itemRow(item, facts)),
      { label: "RECORD, routinely collected data", heading: true, cells: [] },
      ...RECORD.map((item) => itemRow(item, facts)),
    ],
    notes: ["After von Elm and others 2007 and Benchimol and others 2015, paraphrased."],
  };
}

function itemRow({ item, asks, answer }: ChecklistItem, facts: StudyFacts): TableRow {
  const found = answer(facts);
  const [where, known] =
    "gap" in found ? [`Gap: ${found.gap}`, ""] : [`“${TITLES[found.section](facts)}”`, found.filled ?? ""];
  return { label: item, indent: 1, cells: [textCell(asks), textCell(where), textCell(known)] };
}
