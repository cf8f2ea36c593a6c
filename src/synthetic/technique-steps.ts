import { TECHNIQUE_STEPS, type TechniqueStep } from "../cases/roles.ts";

/** How one technique step is chosen and written down in the invented cases. */
export interface SyntheticStep {
  readonly step: TechniqueStep;
  /** Field name, and what the field holds. */
  readonly field: string;
  readonly title: string;
  /** The file's words: the first means done, the others not done. */
  readonly words: readonly (readonly [word: string, label: string])[];
  /** Share done, on average over the years. Drilling: of knees with sclerotic bone. */
  readonly prevalence: number;
  /** Change in the share done from the first year of operations to the last. */
  readonly drift: number;
  /** Who chooses, and how much of the inclination to choose is theirs (0 = decided knee by knee). */
  readonly chosenBy: "surgeon" | "centre";
  readonly likeness: number;
  /** Share of the knees in which the step applies that carry no record of it. */
  readonly notRecorded: number;
  /** True where the file says on which day the step was written down. */
  readonly dated: boolean;
}

/**
 * Prevalences and missing shares are judgements that lie within surveys and registers where there are any.
 *
 * Steps are chosen independently of each other: bundles of technique, which practice has, would hide what was planted.
 */
const CHOICES: Readonly<Record<TechniqueStep, Omit<SyntheticStep, "step">>> = {
  tourniquet: {
    field: "tourniquet",
    title: "Tourniquet used",
    words: yesNo("thigh tourniquet inflated at cementing", "no tourniquet"),
    prevalence: 0.6,
    drift: -0.3,
    chosenBy: "surgeon",
    likeness: 0.85,
    notRecorded: 0.02,
    dated: true,
  },
  pulsedLavage: {
    field: "lavage",
    title: "Bone bed lavage",
    words: [
      ["pulsed", "powered pulsating jet"],
      ["syringe", "syringe only"],
    ],
    prevalence: 0.88,
    drift: 0.12,
    chosenBy: "surgeon",
    likeness: 0.8,
    notRecorded: 0.04,
    dated: false,
  },
  drilling: {
    field: "drilling",
    title: "Drilling of sclerotic bone",
    words: yesNo("holes drilled in sclerotic bone", "sclerotic bone left undrilled"),
    prevalence: 0.55,
    drift: 0,
    chosenBy: "surgeon",
    likeness: 0.1,
    notRecorded: 0.12,
    dated: false,
  },
  vacuumMixing: {
    field: "mixing",
    title: "Cement mixing",
    words: [
      ["vacuum", "closed vacuum mixing"],
      ["bowl", "open bowl"],
    ],
    prevalence: 0.8,
    drift: 0,
    chosenBy: "centre",
    likeness: 0.6,
    notRecorded: 0.03,
    dated: false,
  },
  gloveChange: {
    field: "glove_change",
    title: "Outer gloves changed before cementing",
    words: yesNo("outer gloves changed after trialling", "outer gloves not changed"),
    prevalence: 0.45,
    drift: 0.3,
    chosenBy: "surgeon",
    likeness: 0.1,
    notRecorded: 0.25,
    dated: false,
  },
  antibioticCement: {
    field: "antibiotic_cement",
    title: "Antibiotic-loaded cement",
    words: yesNo("cement with antibiotic", "plain cement"),
    prevalence: 0.9,
    drift: 0,
    chosenBy: "centre",
    likeness: 0.6,
    notRecorded: 0.01,
    dated: false,
  },
  seatedInWorkingPhase: {
    field: "seated_in_working_phase",
    title: "Components seated in the working phase of the cement",
    words: yesNo("seated in the working phase", "seated later"),
    prevalence: 0.75,
    drift: 0,
    chosenBy: "surgeon",
    likeness: 0.1,
    notRecorded: 0.3,
    dated: false,
  },
  cementOnBoneAndImplant: {
    field: "cement_on",
    title: "Where tibial cement was applied",
    words: [
      ["both", "bone and implant"],
      ["bone", "bone only"],
      ["implant", "implant only"],
    ],
    prevalence: 0.6,
    drift: 0,
    chosenBy: "surgeon",
    likeness: 0.5,
    notRecorded: 0.1,
    dated: false,
  },
  pressurisation: {
    field: "pressurised",
    title: "Cement pressurised by any method",
    words: yesNo("pressurised", "not pressurised"),
    prevalence: 0.85,
    drift: 0,
    chosenBy: "surgeon",
    likeness: 0.5,
    notRecorded: 0.1,
    dated: false,
  },
  tibiaFirst: {
    field: "cementing_order",
    title: "Component cemented first",
    words: [
      ["tibia", "tibia first"],
      ["femur", "femur first"],
      ["together", "both together"],
    ],
    prevalence: 0.93,
    drift: 0,
    chosenBy: "surgeon",
    likeness: 0.8,
    notRecorded: 0.05,
    dated: false,
  },
  extensionAtCure: {
    field: "leg_at_cure",
    title: "Leg position while the cement set",
    words: [
      ["extension", "full extension"],
      ["flexion", "slight flexion"],
    ],
    prevalence: 0.8,
    drift: 0,
    chosenBy: "surgeon",
    likeness: 0.5,
    notRecorded: 0.2,
    dated: false,
  },
  stillUntilSet: {
    field: "still_until_set",
    title: "Knee kept still until the cement had set",
    words: yesNo("no movement before set", "moved before set"),
    prevalence: 0.6,
    drift: 0,
    chosenBy: "surgeon",
    likeness: 0,
    notRecorded: 0.35,
    dated: true,
  },
  excessCheck: {
    field: "excess_check",
    title: "Check for excess cement, including behind the knee",
    words: yesNo("checked, including behind the knee", "not checked behind the knee"),
    prevalence: 0.85,
    drift: 0,
    chosenBy: "surgeon",
    likeness: 0.5,
    notRecorded: 0.2,
    dated: false,
  },
};

/** The steps in the order of the catalogue. */
export const SYNTHETIC_STEPS: readonly SyntheticStep[] = TECHNIQUE_STEPS.map((step) => ({
  step,
  ...CHOICES[step],
}));

/** Shares of sclerotic bone: drilling applies in the last two. */
export const SCLEROSIS_SHARES: readonly (readonly [word: string, label: string, share: number])[] = [
  ["none", "no sclerotic bone", 0.65],
  ["mild", "mild sclerosis", 0.22],
  ["marked", "marked sclerosis", 0.13],
];

function yesNo(done: string, notDone: string): SyntheticStep["words"] {
  return [
    ["yes", done],
    ["no", notDone],
  ];
}
