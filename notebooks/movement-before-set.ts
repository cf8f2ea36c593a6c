import { defineStudy } from "mantle-outcomes";
import type { InventedCementedKnees } from "./invented-cemented-knees.fields.ts";
import { whoKeptStill } from "./movement-before-set/who-kept-still.ts";

export default defineStudy<InventedCementedKnees>({
  id: "movement-before-set",
  title: "Leg kept still until the cement had set",
  question: "Do knees kept still until the cement had set loosen less often?",
  export: "../data/demo/datapackage.json",
  eligibility: [{ label: "osteoarthritis", field: "role:diagnosis", oneOf: ["osteoarthritis"] }],
  exposure: { step: "stillUntilSet", labels: { done: "kept still", notDone: "moved" } },
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
  covariates: ["role:ageYears", "role:sex", "role:bmi"],
  // What the ratio is adjusted for: settled before the step, with a reason, never chosen by its p.
  adjusters: [{ field: "role:ageYears", settled: "before", reason: "younger knees are used harder" }],
  smallestDifferenceThatMatters: { per1000: 5, reason: "about half of the loosening expected at ten years" },
  sections: [whoKeptStill],
});
