import { ArgumentError } from "../base/errors.ts";
import { DEMO_SEED, PLANTED_TRUTH, type PlantedTruth } from "./planted-truth.ts";

export interface SyntheticOptions {
  /** Rows of the export. Default 8,000. */
  readonly knees?: number;
  /** Default 24. */
  readonly surgeons?: number;
  /** Default 4. Surgeons are dealt to the centres in turn. */
  readonly centres?: number;
  /** Default `DEMO_SEED`. */
  readonly seed?: number;
  /** Every patient has both knees operated on one day: for checks of patient frailty. Default false. */
  readonly allBilateral?: boolean;
  /** What replaces parts of `PLANTED_TRUTH`. */
  readonly planted?: Partial<PlantedTruth>;
}

export interface SyntheticSettings {
  readonly knees: number;
  readonly surgeons: number;
  readonly centres: number;
  readonly seed: number;
  readonly allBilateral: boolean;
  readonly planted: PlantedTruth;
}

const MOST_KNEES = 10_000_000;
const MOST_SURGEONS = 65_000;

/** Options with their defaults, checked. */
export function syntheticSettings(options: SyntheticOptions): SyntheticSettings {
  const { knees = 8000, surgeons = 24, centres = 4, seed = DEMO_SEED, allBilateral = false } = options;
  requireWhole("knees", knees, 1, MOST_KNEES);
  requireWhole("surgeons", surgeons, 1, MOST_SURGEONS);
  requireWhole("centres", centres, 1, surgeons);
  requireWhole("seed", seed, 0, Number.MAX_SAFE_INTEGER);
  const planted = { ...PLANTED_TRUTH, ...options.planted };
  checkPlanted(planted);
  return { knees, surgeons, centres, seed, allBilateral, planted };
}

function requireWhole(name: string, value: number, lowest: number, highest: number): void {
  if (Number.isSafeInteger(value) && value >= lowest && value <= highest) return;
  throw new ArgumentError(
    `syntheticExport: ${name} must be a whole number from ${lowest} to ${highest}; received ${value}`,
  );
}

function checkPlanted(planted: PlantedTruth): void {
  const { periodEnds, per1000 } = planted.netHazards;
  if (!periodEnds.every((end, place) => end > (periodEnds[place - 1] ?? 0))) {
    throw new ArgumentError("syntheticExport: periodEnds must rise from above 0");
  }
  for (const [cause, hazards] of Object.entries(per1000)) {
    if (hazards.length !== periodEnds.length + 1) {
      throw new ArgumentError(
        `syntheticExport: ${cause} needs ${periodEnds.length + 1} hazards, one more than periodEnds; received ${hazards.length}`,
      );
    }
    for (const hazard of hazards) requireNotNegative(`hazards of ${cause}`, hazard);
  }
  for (const effect of planted.effects) {
    for (const ratio of effect.hazardRatios) requireNotNegative(`hazard ratios of ${effect.step}`, ratio);
  }
  requireNotNegative("surgeonFrailtySd", planted.surgeonFrailtySd);
  requireNotNegative("patientFrailtySd", planted.patientFrailtySd);
  const mislabelled = planted.infectionsLabelledLoosening;
  if (!(mislabelled >= 0 && mislabelled <= 1)) {
    throw new ArgumentError(
      `syntheticExport: infectionsLabelledLoosening must lie between 0 and 1; received ${mislabelled}`,
    );
  }
}

function requireNotNegative(name: string, value: number): void {
  if (Number.isFinite(value) && value >= 0) return;
  throw new ArgumentError(`syntheticExport: ${name} must be 0 or above; received ${value}`);
}
