import type { Section } from "../making/section.ts";
import { adjusted } from "./adjusted.ts";
import { covariateSection } from "./covariates.ts";
import { effects } from "./effects.ts";
import { feasibility } from "./feasibility.ts";
import { included } from "./included.ts";
import { methods } from "./methods.ts";
import { otherMeasures } from "./other-measures.ts";
import { overTime } from "./over-time.ts";
import { published } from "./published.ts";
import { reportingChecklist } from "./reporting-checklist.ts";
import { reproduce } from "./reproduce.ts";
import { sensitivity } from "./sensitivity.ts";

/** Parts of every report after the brief, in reading order. */
export const SECTIONS: readonly Section[] = [
  included,
  covariateSection,
  feasibility,
  overTime,
  effects,
  adjusted,
  otherMeasures,
  sensitivity,
  published,
  methods,
  reportingChecklist,
  reproduce,
];
