import type { StudyPlan } from "../../src/study/plan/plan.ts";
import { PLAN, type smallStudy } from "./small-export.ts";

/** All but `kept` rows with a value of one column get another value: a group of a handful. */
const thinned = (column: string, from: string, to: string, kept: number) => (text: string) => {
  const [header = "", ...rows] = text.trimEnd().split("\n");
  const place = header.split(",").indexOf(column);
  let seen = 0;
  const changed = rows.map((row) => {
    const cells = row.split(",");
    if (cells[place] !== from) return row;
    seen += 1;
    if (seen > kept) cells[place] = to;
    return cells.join(",");
  });
  return `${[header, ...changed].join("\n")}\n`;
};

const CENTRES: Partial<StudyPlan> = { exposure: { field: "centre", groups: ["C1", "C2", "C3"] } };
const SLASHED: Partial<StudyPlan> = {
  exposure: { step: "tourniquet", labels: { done: "on/off", notDone: "to:5" } },
  endpoint: { ...PLAN.endpoint, event: { label: "loosening/lysis", revisionFor: ["loosening"] } },
};

/** Each is an invented export and a plan on it; sizes and seeds are fixed. */
export const ATTACKED: readonly (readonly [string, Partial<StudyPlan>, Parameters<typeof smallStudy>[1]])[] =
  [
    ["300 knees by tourniquet", { clusters: "patient" }, { knees: 300, surgeons: 3, centres: 1, seed: 11 }],
    ["900 knees by tourniquet", { covariates: ["role:asaGrade", "role:bmi"] }, { knees: 900, seed: 12 }],
    ["2,000 knees of three centres", CENTRES, { knees: 2000, seed: 13 }],
    [
      "700 knees of three centres",
      { ...CENTRES, clusters: "surgeon" },
      { knees: 700, surgeons: 4, seed: 14 },
    ],
    ["a centre of three knees", CENTRES, { knees: 1200, seed: 15, csv: thinned("centre", "C3", "C1", 3) }],
    [
      "a centre of three knees beside a small one",
      CENTRES,
      {
        knees: 1500,
        seed: 16,
        csv: (text) => thinned("centre", "C2", "C1", 60)(thinned("centre", "C3", "C1", 4)(text)),
      },
    ],
    ["labels with slashes", SLASHED, { knees: 2000, seed: 17 }],
  ];
