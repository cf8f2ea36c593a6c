import type { TechniqueStep } from "../cases/roles.ts";
import type { StepEntry } from "./step-entry.ts";

/** Steps from seating the implant until the cement is hard. */
export const seatingSteps = {
  tibiaFirst: {
    label: "tibia before femur",
    definition: "The tibial part is cemented before the femoral one.",
    direction: "no effect expected",
    directionBecause: "no study comparing the order was found",
    strength: ["none found"],
    facts: [],
    commonPractice: ["Nearly everyone starts with the tibia (common practice, no source)."],
    caution: "With almost nobody doing the other, no model can stand in for a comparison.",
  },
  extensionAtCure: {
    label: "extension while the cement hardens",
    definition: "The knee is held straight, under load along the leg, until the cement is hard.",
    direction: "favours fixation",
    directionBecause: "held by opinion: even load on the tray",
    strength: ["cohorts", "expert opinion"],
    facts: [
      {
        says: "81 experts, 24 statements: full agreement in the part on hardening (the wording was not seen).",
        source: "cementingConsensus",
      },
      {
        says: "776 knees: lines depended on the amount of cement, whether or not hardened in full extension.",
        source: "cementVolume",
      },
    ],
    commonPractice: ["Slight flexion near 20° is held instead by some (common practice, no source)."],
    caution: "Load and angle go together; the record may hold only one of them.",
  },
  stillUntilSet: {
    label: "no movement until set",
    definition: "The knee is not moved from seating until the cement is hard.",
    direction: "favours fixation",
    directionBecause: "held by opinion: movement may let fat creep under the tray",
    strength: ["none found"],
    facts: [],
    commonPractice: ["Many bend the knee to clear cement before it is set (common practice, no source)."],
    caution: "Seldom written down, and goes with the removal of excess cement.",
  },
  excessCheck: {
    label: "check for excess cement",
    definition: "Cement that was pressed out is looked for and removed, behind the knee as well.",
    direction: "unclear",
    directionBecause: "less wear by loose pieces, but the act itself may move the tray",
    strength: ["cohorts"],
    facts: [
      {
        says: "236 knees: retained pieces on film in 16.5 %; 15.4 % of the pieces had moved.",
        source: "retainedCement",
      },
    ],
    commonPractice: ["Done by all, written down by few (common practice, no source)."],
    caution: "What is not recorded may well have been done.",
  },
} as const satisfies Partial<Record<TechniqueStep, StepEntry>>;
