import { defineFeasibility } from "mantle-outcomes";

/** Which cementation steps can this export be asked about at all? Run before any result is looked at. */
export default defineFeasibility({
  id: "what-can-we-ask",
  title: "What can this export be asked?",
  export: "../data/demo/datapackage.json",

  eligibility: [
    { label: "osteoarthritis", field: "role:diagnosis", oneOf: ["osteoarthritis"] },
    { label: "both components cemented", field: "role:fixation", oneOf: ["cemented"] },
  ],

  outcomes: [
    {
      endpoint: {
        event: { label: "revision for any reason", revisionFor: "any" },
        competing: [{ label: "death", death: true }],
        censoring: "dataCut",
      },
      year: 10,
      smallestDifferenceThatMatters: {
        ratio: 2,
        reason: "twice as many revisions would change what the unit does",
      },
    },
    {
      endpoint: {
        event: { label: "aseptic loosening", revisionFor: ["loosening"] },
        competing: [
          { label: "revision for another reason", revisionFor: "other" },
          { label: "death", death: true },
        ],
        censoring: "dataCut",
      },
      year: 10,
      smallestDifferenceThatMatters: {
        per1000: 5,
        reason: "about half of the loosening expected at ten years",
      },
      // Published registers disagree on the early and the late years.
      periods: [3, 5],
    },
  ],

  // Hard bone is drilled and takes less cement: steps are looked at in bone of each kind.
  strata: ["role:sclerosis"],

  // The unit means to ask three of these questions, whichever can be asked.
  plannedComparisons: 3,
});
