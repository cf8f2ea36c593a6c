import type { SourceKey } from "./sources.ts";

/** Kinds of study behind a step, strongest first for questions about loosening. */
export const EVIDENCE_KINDS = [
  "randomised trials",
  "registers",
  "cohorts",
  "laboratory",
  "expert opinion",
  "none found",
] as const;
export type EvidenceKind = (typeof EVIDENCE_KINDS)[number];

/** What is expected of the step for fixation, before this export is looked at. */
export const EXPECTED_DIRECTIONS = ["favours fixation", "unclear", "no effect expected"] as const;
export type ExpectedDirection = (typeof EXPECTED_DIRECTIONS)[number];

/** A fact with the publication it was seen in. */
export interface CitedFact {
  readonly says: string;
  readonly source: SourceKey;
}

/** One technique step: what it is, what is known, and what makes it hard to study. */
export interface StepEntry {
  /** Trade name, lower case. */
  readonly label: string;
  /** One sentence. */
  readonly definition: string;
  readonly direction: ExpectedDirection;
  readonly directionBecause: string;
  /** The strongest kinds of study on the step and fixation. */
  readonly strength: readonly EvidenceKind[];
  readonly facts: readonly CitedFact[];
  /** What is commonly said or done, for which no source is known. */
  readonly commonPractice: readonly string[];
  /** What a comparison of this step runs into. */
  readonly caution: string;
}
