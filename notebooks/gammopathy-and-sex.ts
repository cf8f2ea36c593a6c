import { defineStudy } from "mantle-outcomes";

/** The same main job on a published open data set: people followed in months. */
export default defineStudy({
  id: "gammopathy-and-sex",
  title: "Monoclonal gammopathy: malignancy in women and men",
  question:
    "Of people found to have a monoclonal gammopathy, do women or men more often go on to a plasma-cell malignancy?",
  export: "../data/mgus2/datapackage.json",

  eligibility: [],
  exposure: { field: "sex", groups: ["F", "M"] },

  endpoint: {
    event: { label: "plasma-cell malignancy", status: "malignancy" },
    competing: [{ label: "death", status: "death" }],
    censoring: "lastContact",
  },
  eventWords: { one: "event", many: "events" },

  years: [5, 10, 15],
  periods: [5, 10],
  clusters: "none",
  covariates: ["role:ageYears", "mspike", "hgb"],

  smallestDifferenceThatMatters: { per1000: 50, reason: "chosen for the worked example" },
});
