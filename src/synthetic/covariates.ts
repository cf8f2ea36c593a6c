import type { Operations } from "./operations.ts";
import {
  filled,
  normalDraws,
  placeAt,
  type RandomStreams,
  runningShares,
  shareDraws,
} from "./random-draws.ts";
import type { Surgeons } from "./surgeons.ts";

/** A code list: the file's word, the words for readers, and the share of knees. */
export type CodeShares = readonly (readonly [word: string, label: string, share: number])[];

/** Code lists of the covariates. None of these changes a revision hazard; age alone changes the hazard of death. */
export const CODES = {
  sex: [
    ["female", "female", 0.57],
    ["male", "male", 0.43],
  ],
  asaGrade: [
    ["1", "fit and healthy", 0.07],
    ["2", "mild systemic disease", 0.7],
    ["3", "severe systemic disease", 0.225],
    ["4", "disease that is a constant threat to life", 0.005],
  ],
  diagnosis: [
    ["osteoarthritis", "osteoarthritis", 0.97],
    ["inflammatory", "inflammatory arthritis", 0.02],
    ["post_traumatic", "arthritis after injury", 0.01],
  ],
  operatorGrade: [
    ["consultant", "consultant surgeon", 0.78],
    ["trainee", "trainee under supervision", 0.22],
  ],
  fixation: [
    ["cemented", "both components cemented", 0.97],
    ["hybrid", "tibia cemented, femur uncemented", 0.03],
  ],
  stem: [
    ["no", "no stem extension", 0.94],
    ["yes", "tibial stem extension", 0.06],
  ],
  implantCode: [
    ["I1", "implant code I1", 0.4],
    ["I2", "implant code I2", 0.3],
    ["I3", "implant code I3", 0.2],
    ["I4", "implant code I4", 0.1],
  ],
  viscosity: [
    ["high", "high viscosity", 0.75],
    ["medium", "medium viscosity", 0.2],
    ["low", "low viscosity", 0.05],
  ],
} as const satisfies Record<string, CodeShares>;

/** Reasons why a covariate can be missing, each with its share. */
export const BMI_MISSING = [
  { value: "nr", label: "not recorded", share: 0.04 },
  { value: "nm", label: "not measured before the operation", share: 0.02 },
] as const;
export const ASA_MISSING = [{ value: "nr", label: "not recorded", share: 0.01 }] as const;

export interface Covariates {
  /** Places in the lists of `CODES`, by knee. */
  readonly code: Readonly<Record<keyof typeof CODES, Uint8Array>>;
  /** Body-mass index in tenths of kg/m². */
  readonly bmiTenths: Uint16Array;
  /** 0 = present, else one more than the place in `BMI_MISSING` or `ASA_MISSING`. */
  readonly bmiMissing: Uint8Array;
  readonly asaMissing: Uint8Array;
}

const BMI = { mean: 30.9, sd: 5.5, lowest: 16, highest: 60 } as const;

/** How often a surgeon takes the implant and cement they usually take. */
const USUAL_CHOICE = 0.9;

export function drawCovariates(
  operations: Operations,
  surgeons: Surgeons,
  streams: RandomStreams,
): Covariates {
  const { knees, patients, patient, surgeon } = operations;
  const byKnee = (name: keyof typeof CODES) => codes(name, knees, streams);
  const byPatient = (name: keyof typeof CODES) => {
    const ofPatient = codes(name, patients, streams);
    return filled(new Uint8Array(knees), (row) => ofPatient[patient[row] ?? 0] ?? 0);
  };
  const bySurgeon = (name: keyof typeof CODES) => {
    const usual = codes(name, surgeons.count, streams);
    const keeps = streams.stream(`knee.${name}.usual`).uniform;
    const other = shareDraws(streams.stream(`knee.${name}`), sharesOf(name));
    return filled(new Uint8Array(knees), (row) => {
      const taken = other();
      return keeps() < USUAL_CHOICE ? (usual[surgeon[row] ?? 0] ?? 0) : taken;
    });
  };
  return {
    code: {
      sex: byPatient("sex"),
      asaGrade: byKnee("asaGrade"),
      diagnosis: byPatient("diagnosis"),
      operatorGrade: byKnee("operatorGrade"),
      fixation: byKnee("fixation"),
      stem: byKnee("stem"),
      implantCode: bySurgeon("implantCode"),
      viscosity: bySurgeon("viscosity"),
    },
    bmiTenths: bmiTenths(operations, streams),
    bmiMissing: missing("bmi", BMI_MISSING, knees, streams),
    asaMissing: missing("asaGrade", ASA_MISSING, knees, streams),
  };
}

function codes(name: keyof typeof CODES, length: number, streams: RandomStreams): Uint8Array {
  return filled(new Uint8Array(length), shareDraws(streams.stream(`code.${name}`), sharesOf(name)));
}

function sharesOf(name: keyof typeof CODES): number[] {
  return CODES[name].map(([, , share]) => share);
}

/** Of the patient: both knees carry the same value. */
function bmiTenths({ patient, patients }: Operations, streams: RandomStreams): Uint16Array {
  const normal = normalDraws(streams.stream("patient.bmi"));
  const draw = () => {
    for (;;) {
      const bmi = BMI.mean + BMI.sd * normal();
      if (bmi >= BMI.lowest && bmi <= BMI.highest) return Math.round(10 * bmi);
    }
  };
  const ofPatient = filled(new Uint16Array(patients), draw);
  return filled(new Uint16Array(patient.length), (row) => ofPatient[patient[row] ?? 0] ?? 0);
}

function missing(
  name: string,
  reasons: readonly { readonly share: number }[],
  knees: number,
  streams: RandomStreams,
): Uint8Array {
  const stated = reasons.reduce((sum, { share }) => sum + share, 0);
  const limits = runningShares([1 - stated, ...reasons.map(({ share }) => share)]);
  const uniform = streams.stream(`missing.${name}`).uniform;
  return filled(new Uint8Array(knees), () => placeAt(limits, uniform()));
}
