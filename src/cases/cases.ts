import type { Column } from "../base/column.ts";
import type { Findings } from "../base/finding.ts";
import type { ExportDescriptor } from "./descriptor.ts";
import type { LinkageCounts } from "./linked-rows.ts";
import type { FieldRole } from "./roles.ts";
import type { FilePart } from "./tables/joined-table.ts";
import type { TickedReasons } from "./ticked-reasons.ts";

/** One row is one operation on one knee (or whatever unit the descriptor names). */
export interface Cases {
  readonly rows: number;
  /** By field name, in the order of the file. */
  readonly columns: ReadonlyMap<string, Column>;
  /** The field that carries each role. */
  readonly fieldOfRole: ReadonlyMap<FieldRole, string>;
  readonly descriptor: ExportDescriptor;
  /** Where the field of reasons is a list: every reason ticked, beside the main one in its column. */
  readonly tickedReasons?: TickedReasons;
  /** How the rows of each second table met the cases. */
  readonly linkage?: readonly LinkageCounts[];
  readonly source: {
    /** File name without folders: nothing of the machine is kept. */
    readonly fileName: string;
    readonly fileHash: string;
    readonly descriptorHash: string;
    /** First file line of each record, counted from 1; in a workbook the row of the sheet. */
    readonly lineOfRow: Uint32Array;
    /** The files of the table and the first row of each, where known. */
    readonly files?: readonly FilePart[];
  };
  /** What reading found. Cross-field rules are `checkCases`. */
  readonly findings: Findings;
}
