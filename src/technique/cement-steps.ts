import type { TechniqueStep } from "../cases/roles.ts";
import type { StepEntry } from "./step-entry.ts";

/** Steps that concern the cement itself. */
export const cementSteps = {
  vacuumMixing: {
    label: "closed vacuum mixing",
    definition: "Powder and liquid are mixed in a closed, evacuated cartridge, in place of an open bowl.",
    direction: "unclear",
    directionBecause:
      "fewer voids, but a gain in strength depends on the cement, and no knee revision study was found",
    strength: ["laboratory"],
    facts: [
      {
        says: "48 laboratory constructs: fewer voids in some cements, no general gain in strength.",
        source: "vacuumLaboratory",
      },
      {
        says: "18 techniques in the laboratory: mixing moves the times of dough, working and setting.",
        source: "mixingTimes",
      },
      { says: "Used by 79.9 % of 903 surgeons in a survey.", source: "surveyUnitedStates" },
    ],
    commonPractice: [],
    caution: "Chosen by the centre more than by the surgeon or the knee.",
  },
  antibioticCement: {
    label: "antibiotic cement",
    definition: "The cement holds an antibiotic, added by the maker or by hand.",
    direction: "unclear",
    directionBecause:
      "meant against infection; its effect on loosening is unknown, and it may move low-grade infection from one label to the other",
    strength: ["randomised trials", "registers"],
    facts: [
      {
        says: "14 registers, 2,168,924 knees, 93.2 % with antibiotic: no significant difference in revision for infection within a year, nor for any reason.",
        source: "antibioticRegisters",
      },
      {
        says: "Registers, people at high risk: adjusted ratio 1.09 (0.90 to 1.31) for ASA grade 3 and over.",
        source: "antibioticHighRisk",
      },
      { says: "Nine randomised trials, 6,507 joints: less infection over all.", source: "antibioticTrials" },
    ],
    commonPractice: [],
    caution: "Goes with the kind of cement, the hospital and the country; few knees are without it.",
  },
  seatedInWorkingPhase: {
    label: "seated in the working phase",
    definition: "The implant is seated while the cement no longer sticks to the glove and still flows.",
    direction: "favours fixation",
    directionBecause: "cement that flows enters bone and wets metal; late cement does neither",
    strength: ["laboratory"],
    facts: [
      {
        says: "Penetration rises with the size of pores and the square root of pressure, and falls with time since mixing.",
        source: "penetrationControl",
      },
      {
        says: "Laboratory: putting cement on the metal earlier raises, later lowers the bond.",
        source: "trayBond",
      },
      {
        says: "Laboratory, room at 20 °C: set after 534 s when stored at 20 °C, 414 s at 24 °C, 381 s at 28 °C.",
        source: "storageTemperature",
      },
    ],
    commonPractice: [
      "About 5 % or half a minute to a minute sooner set for each °C warmer (common practice, no source).",
    ],
    caution: "Times are seldom written down, and the phases depend on the cement and the room.",
  },
  cementOnBoneAndImplant: {
    label: "cement on bone and implant",
    definition: "Cement is put on the cut bone as well as on the underside of the implant.",
    direction: "favours fixation",
    directionBecause: "deeper cement and a cleaner metal surface are expected",
    strength: ["cohorts", "laboratory"],
    facts: [
      {
        says: "Scoping review, 57 studies: both seems to give deeper penetration.",
        source: "cementingReview",
      },
      {
        says: "24 tibiae, four ways to put cement on: no significant difference once pulsed lavage was used.",
        source: "applicationMethods",
      },
      {
        says: "40 cadaver tibiae: tray first deepest under the plateau, bone with restrictor deepest further down.",
        source: "applicationCadaver",
      },
      {
        says: "776 knees: lines in 37.4 %; fewer with more cement, whether or not on both sides.",
        source: "cementVolume",
      },
    ],
    commonPractice: [],
    caution: "Tibia and femur may be done differently; say which of them the record means.",
  },
  pressurisation: {
    label: "pressurisation",
    definition: "Cement is pressed into the bone by finger, gun or device before the implant is seated.",
    direction: "favours fixation",
    directionBecause: "pressure drives cement between the struts",
    strength: ["cohorts", "laboratory"],
    facts: [
      {
        says: "Scoping review: 7 of 11 studies favour the gun, none shows the finger better.",
        source: "cementingReview",
      },
      {
        says: "Historical groups: fewest early lines with lavage and pressure together.",
        source: "lavageHistorical",
      },
      { says: "Cadaver pairs: the gun does not replace pulsed lavage.", source: "lavageAndGun" },
    ],
    commonPractice: [],
    caution: "Finger and gun are different steps; most use one or the other, some both.",
  },
} as const satisfies Partial<Record<TechniqueStep, StepEntry>>;
