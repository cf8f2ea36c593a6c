import type { TechniqueStep } from "../cases/roles.ts";

/** What is compared: a technique step, or any coded field of the export. */
export type Exposure =
  | {
      readonly step: TechniqueStep;
      /** Done first: differences are done minus not done. Labels for readers, e.g. "tourniquet", "no tourniquet". */
      readonly labels?: { readonly done: string; readonly notDone: string };
    }
  | {
      readonly field: string;
      /** File codes of the groups, in the order compared (first minus second). Others are not compared. */
      readonly groups: readonly string[];
    };

/** Row's place when it is not compared. */
export const NOT_COMPARED = 255;

/** Which row is in which group, and why the others are in none. */
export interface ExposureGroups {
  readonly title: string;
  /** Compared groups, in order. */
  readonly labels: readonly string[];
  /** Per row of the cases: index into `labels`, or NOT_COMPARED. */
  readonly group: Uint8Array;
  /** Rows not compared, by reason ("not recorded", "not applicable", another code), each with its rows. */
  readonly notCompared: readonly { readonly label: string; readonly rows: Int32Array }[];
  /** Records of the step dated after the revision: read as not recorded, and counted here. */
  readonly recordedAfterRevision: number;
}
