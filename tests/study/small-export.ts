import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { onTestFinished } from "vitest";
import type { NotebookSource } from "../../src/study/notebook/notebook-source.ts";
import { defineStudy, type Study } from "../../src/study/plan/define-study.ts";
import type { StudyPlan } from "../../src/study/plan/plan.ts";
import { syntheticExport } from "../../src/synthetic/synthetic-export.ts";
import type { SyntheticOptions } from "../../src/synthetic/synthetic-options.ts";

export interface SmallStudy {
  readonly study: Study;
  readonly source: NotebookSource;
}

export const PLAN: StudyPlan = {
  id: "a-question",
  title: "A question",
  question: "Does it matter?",
  export: "datapackage.json",
  eligibility: [{ label: "osteoarthritis", field: "role:diagnosis", oneOf: ["osteoarthritis"] }],
  exposure: { step: "tourniquet", labels: { done: "with", notDone: "without" } },
  endpoint: {
    event: { label: "aseptic loosening", revisionFor: ["loosening"] },
    competing: [
      { label: "revision for another reason", revisionFor: "other" },
      { label: "death", death: true },
    ],
    censoring: "dataCut",
  },
  years: [5, 10],
  periods: [3, 5],
  covariates: ["role:ageYears", "role:sex"],
  smallestDifferenceThatMatters: { per1000: 5, reason: "agreed beforehand" },
};

/** An invented export in a folder of its own, and a plan on it; `csv` and `descriptor` may spoil it first. */
export function smallStudy(
  plan: Partial<StudyPlan> = {},
  options: SyntheticOptions & {
    readonly csv?: (text: string) => string;
    readonly descriptor?: (descriptor: Record<string, unknown>) => unknown;
  } = {},
): SmallStudy {
  const { csv = (text) => text, descriptor = (same) => same, ...synthetic } = options;
  const folder = mkdtempSync(join(tmpdir(), "mantle-study-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  const made = syntheticExport({ knees: 1500, surgeons: 12, seed: 5, ...synthetic });
  writeFileSync(join(folder, "cases.csv"), csv([...made.csvChunks()].join("")));
  const copy: Record<string, unknown> = JSON.parse(JSON.stringify(made.descriptor));
  writeFileSync(join(folder, "datapackage.json"), JSON.stringify(descriptor(copy)));
  return {
    study: defineStudy({ ...PLAN, ...plan }),
    source: { folder, fileName: "notebook.ts", source: "// a notebook" },
  };
}
