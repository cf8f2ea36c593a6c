import type { StudyPlan } from "../../src/study/plan/plan.ts";
import { PLAN, type smallStudy } from "./small-export.ts";

type Options = NonNullable<Parameters<typeof smallStudy>[1]>;

/** Two reports of one unit: what is changed in the plan, and in the rows, of the first and of the second. */
export interface AttackedPair {
  readonly name: string;
  readonly options: Options;
  /** Nothing follows from the two even where the second is made without a thought of the first. */
  readonly harmless?: true;
  readonly first: { readonly plan?: Partial<StudyPlan>; readonly csv?: (text: string) => string };
  readonly second: { readonly plan?: Partial<StudyPlan>; readonly csv?: (text: string) => string };
}

const aged = (from: number): Partial<StudyPlan> => ({
  eligibility: [...PLAN.eligibility, { label: `aged ${from} or over`, field: "role:ageYears", from }],
});
const centres: Partial<StudyPlan> = { exposure: { field: "centre", groups: ["C1", "C2", "C3"] } };

/** The last rows of the export are not there yet. */
const fewerRows = (missing: number) => (text: string) =>
  `${text.trimEnd().split("\n").slice(0, -missing).join("\n")}\n`;

/** Some of those who were revised for loosening were not yet. */
const fewerRevised = (missing: number) => (text: string) => {
  const [header = "", ...rows] = text.trimEnd().split("\n");
  const names = header.split(",");
  const reason = names.indexOf("revision_reason");
  const emptied = ["revision_date", "revision_reason", "loosened_component"].map((name) =>
    names.indexOf(name),
  );
  let done = 0;
  const changed = rows.map((row) => {
    const cells = row.split(",");
    if (cells[reason] !== "loosening" || done === missing) return row;
    done += 1;
    for (const place of emptied) if (place >= 0) cells[place] = "";
    return cells.join(",");
  });
  return `${[header, ...changed].join("\n")}\n`;
};

/** Some of those who died were still alive. */
const fewerDead = (missing: number) => (text: string) => {
  const [header = "", ...rows] = text.trimEnd().split("\n");
  const place = header.split(",").indexOf("death_date");
  let done = 0;
  const changed = rows.map((row) => {
    const cells = row.split(",");
    if (cells[place] === "" || done === missing) return row;
    done += 1;
    cells[place] = "";
    return cells.join(",");
  });
  return `${[header, ...changed].join("\n")}\n`;
};

/** Exports of fixed sizes and seeds. */
export const ATTACKED_PAIRS: readonly AttackedPair[] = [
  {
    name: "eligible from 45 years and from 46",
    options: { knees: 1500, seed: 31 },
    first: { plan: aged(45) },
    second: { plan: aged(46) },
  },
  {
    name: "eligible from 47 years and from 46, by centre",
    options: { knees: 1500, seed: 32 },
    first: { plan: { ...centres, ...aged(47) } },
    second: { plan: { ...centres, ...aged(46) } },
  },
  {
    name: "other periods",
    options: { knees: 3500, seed: 47 },
    first: { plan: { periods: [3, 5] } },
    second: { plan: { periods: [2, 6] } },
  },
  {
    name: "other years",
    options: { knees: 3500, seed: 47 },
    first: { plan: { years: [5, 10] } },
    second: { plan: { years: [4, 9] } },
  },
  {
    name: "other covariates",
    options: { knees: 1500, seed: 38 },
    harmless: true,
    first: {},
    second: { plan: { covariates: ["role:sex", "role:bmi", "role:asaGrade", "role:centre"] } },
  },
  {
    name: "two groups joined in one",
    options: { knees: 600, seed: 40 },
    first: { plan: centres },
    second: { plan: { exposure: { field: "centre", groups: ["C1", "C2"] } } },
  },
  {
    name: "three revisions more",
    options: { knees: 1500, seed: 38 },
    first: { csv: fewerRevised(3) },
    second: {},
  },
  { name: "one knee more", options: { knees: 1500, seed: 38 }, first: { csv: fewerRows(1) }, second: {} },
  {
    name: "a year more: some knees, revisions and deaths",
    options: { knees: 1500, seed: 38 },
    first: { csv: (text) => fewerDead(9)(fewerRevised(4)(fewerRows(90)(text))) },
    second: {},
  },
];
