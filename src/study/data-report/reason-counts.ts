import { isPresent } from "../../base/column.ts";
import type { Cases } from "../../cases/cases.ts";
import { columnOfRole } from "../../cases/column-of-role.ts";
import { countUnits, type RowCodes, type UnitCount } from "../../technique/row-codes.ts";

/** Why knees were revised: as the main reason, and ticked at all. */
export interface ReasonCounts {
  readonly field: string;
  readonly all: UnitCount;
  readonly reasons: readonly {
    readonly label: string;
    readonly main: UnitCount;
    /** Ticked beside another that counts as main; undefined where the field holds one reason only. */
    readonly beside: UnitCount | undefined;
  }[];
  /** Rows with several reasons, and those of them whose main reason is not the one written first. */
  readonly several:
    | {
        readonly ticked: number;
        readonly changed: number;
        /** Fields under which the findings of them stand. */
        readonly foundAs: readonly string[];
      }
    | undefined;
}

/** Reasons in the order of the dictionary; undefined where the export has no coded field for them. */
export function reasonCounts(cases: Cases, persons: RowCodes): ReasonCounts | undefined {
  const column = columnOfRole(cases, "revisionReason");
  if (column?.kind !== "code") return undefined;
  const { tickedReasons: ticked } = cases;
  const main = column.codes.map((): number[] => []);
  const beside = column.codes.map((): number[] => []);
  const codesOfSet = ticked?.sets.map((words) => words.map((word) => column.codes.indexOf(word))) ?? [];
  for (let row = 0; row < cases.rows; row += 1) {
    if (!isPresent(column, row)) continue;
    const code = column.values[row] ?? 0;
    main[code]?.push(row);
    for (const other of codesOfSet[ticked?.setOfRow[row] ?? -1] ?? []) {
      if (other !== code) beside[other]?.push(row);
    }
  }
  return {
    field: column.field,
    all: countUnits(main.flat(), persons),
    reasons: column.labels.map((label, code) => ({
      label,
      main: countUnits(main[code] ?? [], persons),
      beside: ticked === undefined ? undefined : countUnits(beside[code] ?? [], persons),
    })),
    several: ticked && { ticked: ticked.several, changed: ticked.changed, foundAs: ticked.foundAs },
  };
}
