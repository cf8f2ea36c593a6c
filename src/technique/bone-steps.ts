import type { TechniqueStep } from "../cases/roles.ts";
import type { StepEntry } from "./step-entry.ts";

/** Steps that prepare the field and the bone. */
export const boneSteps = {
  tourniquet: {
    label: "tourniquet",
    definition: "A cuff around the thigh is inflated to stop the flow of blood.",
    direction: "unclear",
    directionBecause:
      "drier bone may take more cement, but register results on loosening point both ways over time",
    strength: ["randomised trials", "registers"],
    facts: [
      {
        says: "24,249 knees in a national register: revised for any reason by three years 2.49 % (2.21 to 2.81) with a tourniquet, 3.59 % (3.14 to 4.10) without; tibial aseptic loosening 0.08 % (0.04 to 0.15) and 0.39 % (0.25 to 0.58).",
        source: "tourniquetNorway",
      },
      {
        says: "149,616 cemented knees in a national register: no difference for any reason or for infection; hazard of loosening 1.56 times as high with a tourniquet after five years.",
        source: "tourniquetSweden",
      },
      {
        says: "41 randomised trials, 2,819 people: serious adverse events 1.73 times (1.10 to 2.73) as frequent with a tourniquet.",
        source: "tourniquetTrials",
      },
      {
        says: "Randomised trial of 50 knees with measured migration: difference 0.01 mm (−0.13 to 0.15).",
        source: "tourniquetMigration",
      },
      {
        says: "Randomised trial of 90 knees: summed cement mantle 14.2 mm with, 13.0 mm without.",
        source: "tourniquetDepth",
      },
      {
        says: "Randomised trial of 150 knees in three arms: no difference in the mantle.",
        source: "tourniquetThreeArms",
      },
    ],
    commonPractice: [],
    caution: "The difference may change sign over the years, so one ratio for all years hides it.",
  },
  pulsedLavage: {
    label: "pulsed lavage",
    definition: "A powered, pulsating jet washes the cut bone, in place of a syringe or bulb.",
    direction: "favours fixation",
    directionBecause: "cleaner bone lets cement in deeper",
    strength: ["cohorts", "laboratory"],
    facts: [
      {
        says: "Partial knees, 56 and 56: lines in all four zones in 2 with pulsed and 12 with syringe lavage; median penetration 2.6 and 1.5 mm.",
        source: "lavagePartial",
      },
      {
        says: "363 knees in three historical groups: more lines at one and three years with syringe lavage and hand packing.",
        source: "lavageHistorical",
      },
      {
        says: "Six cadaver pairs: pull-out and penetration better with pulsed lavage.",
        source: "lavagePullOut",
      },
      {
        says: "Six cadaver pairs: pressure from a gun did not make up for pulsed lavage left out.",
        source: "lavageAndGun",
      },
      {
        says: "Systematic review: laboratory work favours pulsed lavage; clinical outcomes are missing.",
        source: "lavageReview",
      },
      { says: "Used by all of 121 surgeons who answered a national survey.", source: "surveyNorway" },
    ],
    commonPractice: [],
    caution: "Where nearly everyone does it there is hardly anyone to compare with.",
  },
  drilling: {
    label: "drilling of sclerotic bone",
    definition: "Several small holes are drilled into hard, polished bone so that cement can key in.",
    direction: "favours fixation",
    directionBecause: "holes give cement a hold where it hardly enters; nothing is expected in soft bone",
    strength: ["cohorts"],
    facts: [
      {
        says: "2.0 mm bit in 290 knees, 4.5 mm in 109: mean largest penetration 1.1 and 4.8 mm at three months; no loosening in either.",
        source: "drilling",
      },
      {
        says: "Cadaver tibiae: the denser the bone, the less cement enters (r² 0.18).",
        source: "applicationMethods",
      },
    ],
    commonPractice: ["Holes 2–3 mm deep (common practice, no source)."],
    caution:
      "Done because the bone is hard, which itself keeps cement out: only knees of like bone can be compared. Papers quote the width of the bit, users often mean the depth of the hole.",
  },
  gloveChange: {
    label: "change of gloves",
    definition: "Outer gloves are changed after trialling, before implant or cement is touched.",
    direction: "favours fixation",
    directionBecause:
      "less fat and blood reach the metal, and fewer organisms; no clinical study on loosening was found",
    strength: ["laboratory"],
    facts: [
      {
        says: "26 knees: a living organism at one stage or more in 54 %; gloves carried 42 % of the positive samples.",
        source: "gloveOrganisms",
      },
      { says: "Outer gloves perforated in 3.7 % per surgeon glove.", source: "glovePerforation" },
      {
        says: "Laboratory: fat on the tray weakens its bond; cement put on the tray first largely offsets that.",
        source: "trayBond",
      },
    ],
    commonPractice: [],
    caution: "Seldom written down, so many knees are not recorded.",
  },
} as const satisfies Partial<Record<TechniqueStep, StepEntry>>;
