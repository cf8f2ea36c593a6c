import { defineAdherence } from "mantle-outcomes";

/** Does the unit do the steps that it says it does? Outcomes are not looked at. The standards are invented, as the data are. */
export default defineAdherence({
  id: "what-the-unit-does",
  title: "Which cementation steps the unit does",
  question: "Does the unit do the steps that it says it does?",
  export: "../data/demo/datapackage.json",

  eligibility: [{ label: "both components cemented", field: "role:fixation", oneOf: ["cemented"] }],

  // Set before anyone looked, with whose standard it is.
  standards: [
    { step: "pulsedLavage", percentAtLeast: 90, reason: "agreed in the unit (invented)" },
    { step: "vacuumMixing", percentAtLeast: 90, reason: "agreed in the unit (invented)" },
    { step: "cementOnBoneAndImplant", percentAtLeast: 80, reason: "agreed in the unit (invented)" },
    { step: "stillUntilSet", percentAtLeast: 80, reason: "agreed in the unit (invented)" },
    { step: "excessCheck", percentAtLeast: 80, reason: "agreed in the unit (invented)" },
  ],

  change: { on: "2016-01-01", what: "the form for the operation note was changed (invented)" },
  yearsInBlock: 2,

  // Hard bone takes less cement; trainees are taught here.
  strata: ["role:sclerosis", "role:operatorGrade"],
});
