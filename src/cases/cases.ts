import type { Column } from "../base/column.ts";
import type { Findings } from "../base/finding.ts";
import type { ExportDescriptor } from "./descriptor.ts";
import type { FieldRole } from "./roles.ts";

/** One row is one operation on one knee (or whatever unit the descriptor names). */
export interface Cases {
  readonly rows: number;
  /** By field name, in the order of the file. */
  readonly columns: ReadonlyMap<string, Column>;
  /** The field that carries each role. */
  readonly fieldOfRole: ReadonlyMap<FieldRole, string>;
  readonly descriptor: ExportDescriptor;
  readonly source: {
    /** File name without folders: nothing of the machine is kept. */
    readonly fileName: string;
    readonly fileHash: string;
    readonly descriptorHash: string;
    /** First file line of each record, counted from 1. */
    readonly lineOfRow: Uint32Array;
  };
  /** What reading found. Cross-field rules are `checkCases`. */
  readonly findings: Findings;
}
