import type { TechniqueStep } from "../cases/roles.ts";
import { boneSteps } from "./bone-steps.ts";
import { cementSteps } from "./cement-steps.ts";
import { seatingSteps } from "./seating-steps.ts";
import type { StepEntry } from "./step-entry.ts";

/**
 * What each technique step is, and what is known of it.
 *
 * Facts name the publication whose abstract or excerpt was read; the rest is marked "common practice, no source".
 * Nothing here is advice, and no figure is a target: the export is asked what happened in it.
 */
export const stepCatalogue: Readonly<Record<TechniqueStep, StepEntry>> = {
  ...boneSteps,
  ...cementSteps,
  ...seatingSteps,
};
