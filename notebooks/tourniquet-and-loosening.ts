import { defineStudy } from "mantle-outcomes";

/** Do cemented knees loosen more, or less, often when a tourniquet was used? */
export default defineStudy({
  id: "tourniquet-and-loosening",
  title: "Tourniquet and aseptic loosening",
  question:
    "Are knees operated with a tourniquet revised for aseptic loosening more often, or less often, than knees operated without one?",
  export: "../data/demo/datapackage.json",

  eligibility: [
    { label: "osteoarthritis", field: "role:diagnosis", oneOf: ["osteoarthritis"] },
    { label: "both components cemented", field: "role:fixation", oneOf: ["cemented"] },
  ],

  // Technique as it was done at the operation. Not recorded is never read as “no”.
  exposure: { step: "tourniquet", labels: { done: "tourniquet", notDone: "no tourniquet" } },

  endpoint: {
    event: { label: "aseptic loosening", revisionFor: ["loosening"] },
    competing: [
      { label: "revision for another reason", revisionFor: "other" },
      { label: "death", death: true },
    ],
    censoring: "dataCut",
  },

  years: [5, 10],
  // Declared before any result was seen: published registers disagree on the early and the late years.
  periods: [3, 5],
  clusters: "auto",

  covariates: [
    "role:ageYears",
    "role:sex",
    "role:bmi",
    "role:asaGrade",
    "role:sclerosis",
    "role:operatorGrade",
    "role:centre",
    "role:viscosity",
    "role:technique:pulsedLavage",
    "role:technique:stillUntilSet",
  ],

  // Each is settled before the step and may bear on both the choice of it and on loosening. None was chosen by its p.
  adjusters: [
    { field: "role:ageYears", settled: "before", curve: true, reason: "younger knees are used harder" },
    { field: "role:sex", settled: "before", reason: "loads and bone differ" },
    { field: "role:bmi", settled: "before", reason: "load on the fixation" },
    { field: "role:sclerosis", settled: "before", reason: "hard bone takes less cement" },
    { field: "role:operatorGrade", settled: "before", reason: "trainees may be given other knees" },
    { field: "role:operationDate", settled: "before", reason: "habits and implants drift over the years" },
  ],

  // One of the three questions that the unit means to ask of this export (see “What can this export be asked?”).
  plannedComparisons: 3,

  smallestDifferenceThatMatters: {
    per1000: 5,
    reason: "about half of the loosening expected at ten years",
  },
});
