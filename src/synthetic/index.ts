export type { Cause, PlantedEffect, PlantedTruth, Reason } from "./planted-truth.ts";
export { DEMO_SEED, PLANTED_TRUTH } from "./planted-truth.ts";
export type { SyntheticExport, SyntheticTruth } from "./synthetic-export.ts";
export { syntheticExport, syntheticTruth } from "./synthetic-export.ts";
export type { SyntheticOptions } from "./synthetic-options.ts";
