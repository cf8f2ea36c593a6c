import type { TechniqueStep } from "../../cases/roles.ts";

/**
 * What a plan may name of one export, as types for an editor and a compiler. `mantle new` writes it from the dictionary.
 *
 * Fields stand under their own name and under the role they carry ("role:ageYears"). What is settled after the operation
 * (revisions, deaths, last contacts) and who a row is about are not among them.
 */
export interface ExportWords {
  /** Fields of amounts. */
  readonly numbers: string;
  /** Fields of dates. */
  readonly days: string;
  /** Fields of codes, each with the codes of the file. */
  readonly codes: Readonly<Record<string, string>>;
  /** Fields of codes that the dictionary does not list. */
  readonly texts: string;
  readonly steps: TechniqueStep;
  /** Codes of the reason for revision. */
  readonly reasons: string;
  /** What ended follow-up, in exports that hold durations. */
  readonly statuses: string;
}
