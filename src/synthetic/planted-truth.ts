import type { TechniqueStep } from "../cases/roles.ts";

/**
 * Seed of the invented demo export: the digits of its data cut.
 *
 * It was written down before the first result was seen and is never chosen again: a seed picked for its
 * results would make the demo an argument.
 */
export const DEMO_SEED = 20241231;

/** Causes of revision that have a hazard of their own. "other" is split into reasons by `OTHER_REASON_SHARES`. */
export const CAUSES = ["infection", "loosening", "other"] as const;
export type Cause = (typeof CAUSES)[number];

/** A hazard ratio of one technique step on one cause, by window of follow-up. */
export interface PlantedEffect {
  readonly step: Exclude<TechniqueStep, "drilling">;
  /** The state that carries the ratio; the other state is the reference. */
  readonly state: "done" | "notDone";
  readonly cause: Cause;
  /** One ratio for each window of `EFFECT_WINDOW_ENDS` and the open last one. */
  readonly hazardRatios: readonly [number, number, number];
}

/** Years at which a planted effect changes: 0–3, 3–5, over 5. */
export const EFFECT_WINDOW_ENDS = [3, 5] as const;

/** Everything that was built into the invented cases on purpose. */
export interface PlantedTruth {
  /** Net hazards per 1,000 knee-years in the periods that end at `periodEnds` years; the last is open. */
  readonly netHazards: {
    readonly periodEnds: readonly number[];
    readonly per1000: Readonly<Record<Cause, readonly number[]>>;
  };
  readonly effects: readonly PlantedEffect[];
  /** Standard deviation of the log hazard between surgeons, all causes alike. */
  readonly surgeonFrailtySd: number;
  /** Standard deviation of the log hazard between patients, shared by both knees, all causes alike. */
  readonly patientFrailtySd: number;
  /** Share of revisions for infection that the file calls aseptic loosening. */
  readonly infectionsLabelledLoosening: number;
}

/** The demo's truth. Hazards and effects are judgements that resemble published registers; no row was observed. */
export const PLANTED_TRUTH: PlantedTruth = {
  netHazards: {
    periodEnds: [1, 3, 5, 10],
    per1000: {
      infection: [2.5, 1.2, 0.6, 0.4, 0.3],
      loosening: [0.3, 1.2, 1.2, 1.1, 1.5],
      other: [1.7, 3.0, 1.6, 1.3, 1.2],
    },
  },
  effects: [
    { step: "tourniquet", state: "done", cause: "loosening", hazardRatios: [0.4, 1.0, 1.5] },
    { step: "stillUntilSet", state: "notDone", cause: "loosening", hazardRatios: [1.8, 1.8, 1.8] },
    { step: "antibioticCement", state: "done", cause: "infection", hazardRatios: [1.0, 1.0, 1.0] },
    { step: "tibiaFirst", state: "done", cause: "loosening", hazardRatios: [1.0, 1.0, 1.0] },
  ],
  surgeonFrailtySd: 0.35,
  patientFrailtySd: 0.5,
  infectionsLabelledLoosening: 0.1,
};

/** Days on which the invented knees were operated, and the last day on which anything was seen. */
export const FIRST_OPERATION_DATE = "2008-01-01";
export const LAST_OPERATION_DATE = "2022-12-31";
export const DATA_CUT = "2024-12-31";

/** Reasons for revision in the file's words; infection and loosening have hazards of their own. */
export const REASONS = [
  "infection",
  "fracture",
  "loosening",
  "instability",
  "wear",
  "malalignment",
  "pain",
  "patella",
] as const;
export type Reason = (typeof REASONS)[number];

/** Relative shares of the remaining reasons: middles of the ranges seen in register reports, from memory. */
export const OTHER_REASON_SHARES: readonly (readonly [Reason, number])[] = [
  ["instability", 13.5],
  ["patella", 12.5],
  ["pain", 11.5],
  ["malalignment", 5],
  ["fracture", 4.5],
  ["wear", 4],
];

/** Death: `perYearAt65`·exp(`perYearOfAge`·(age − 65)) a year with age advancing, times `inFirstYear` for a year after each operation. */
export const DEATH_HAZARD = { perYearAt65: 0.0075, perYearOfAge: 0.1, inFirstYear: 0.5 } as const;

/** Age at a patient's first operation: normal, drawn again outside the limits. */
export const AGE_AT_OPERATION = { mean: 69, sd: 9.5, lowest: 40, highest: 94 } as const;

/**
 * Second knees.
 *
 * 24 % of patients end with both knees in the file; more are planned, because some die or reach the last
 * operation day first.
 */
export const BOTH_KNEES = {
  planned: 0.27,
  sameDay: 0.2,
  shortestGapDays: 90,
  meanFurtherGapDays: 600,
  sameSurgeon: 0.8,
} as const;

/** Emigrations a patient-year: about 0.4 % of patients leave during follow-up. */
export const EMIGRATION_PER_YEAR = 0.0006;
