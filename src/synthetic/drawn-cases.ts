import type { Covariates } from "./covariates.ts";
import type { Operations } from "./operations.ts";
import type { Recording } from "./recording.ts";
import type { Surgeons } from "./surgeons.ts";
import type { Technique } from "./technique-choice.ts";

/** Everything drawn for one export. */
export interface DrawnCases {
  readonly operations: Operations;
  readonly surgeons: Surgeons;
  readonly covariates: Covariates;
  readonly technique: Technique;
  readonly recording: Recording;
}
