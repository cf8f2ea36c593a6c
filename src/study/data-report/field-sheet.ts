import type { Column } from "../../base/column.ts";
import type { Cases } from "../../cases/cases.ts";
import { UNREADABLE_REASON } from "../../cases/cell-status.ts";
import type { ExportField } from "../../cases/descriptor.ts";
import { caseFields } from "../../cases/descriptor-rules.ts";
import { countUnits, type RowCodes, type UnitCount } from "../../technique/row-codes.ts";
import {
  centreLevels,
  NO_LEVEL,
  operationYearLevels,
  type RowLevels,
  surgeonLevels,
} from "../../technique/row-levels.ts";
import { LEVEL_WORDS } from "./data-keys.ts";
import { type FilledCount, filledByLevel, rowsByLevel } from "./filled-counts.ts";

/** Roles whose blank cell says that something did not happen, not that nobody wrote it down. */
const BLANK_SAYS_SOMETHING: readonly (string | undefined)[] = [
  ...["revisionDate", "revisionReason", "revisionSide", "loosenedComponent"],
  ...["deathDate", "emigrationDate", "entryDate", "lastFollowUpDate"],
];

export interface FieldFilled {
  readonly field: ExportField;
  readonly title: string;
  /** A blank says something: no share of it means completeness. */
  readonly isOptional: boolean;
  readonly all: FilledCount;
  readonly unreadable: UnitCount;
  /** Neither a value nor a text that could not be read. */
  readonly blank: UnitCount;
  /** By kind of level, then level. */
  readonly at: readonly (readonly FilledCount[])[];
}

/** How completely every field is filled: in all, by year of operation and by centre. */
export interface FieldSheet {
  readonly rows: UnitCount;
  readonly levels: readonly {
    readonly kind: "year" | "centre";
    readonly title: string;
    readonly labels: readonly string[];
    readonly sizes: readonly UnitCount[];
    /** Surgeons at each level; empty where they are not known. */
    readonly surgeons: readonly number[];
  }[];
  readonly fields: readonly FieldFilled[];
}

/** Counts the cells of every field; nothing is judged here. */
export function fieldSheet(cases: Cases, persons: RowCodes): FieldSheet {
  const everybody = rowsByLevel({ labels: ["all"], codes: new Int32Array(cases.rows) });
  const surgeon = surgeonLevels(cases);
  const kinds = [
    { kind: "year" as const, found: operationYearLevels(cases) },
    { kind: "centre" as const, found: centreLevels(cases) },
  ].flatMap(({ kind, found }) =>
    found === undefined ? [] : [{ kind, levels: found, grouped: rowsByLevel(found) }],
  );
  const fields = caseFields(cases.descriptor).flatMap((field): FieldFilled[] => {
    const column = cases.columns.get(field.name);
    if (column === undefined) return [];
    const [all] = filledByLevel(column, everybody, persons);
    if (all === undefined) return [];
    const { unreadable, blank } = missingRows(column, persons);
    return [
      {
        field,
        title: field.title ?? field.name,
        isOptional: BLANK_SAYS_SOMETHING.includes(field.role),
        all,
        unreadable,
        blank,
        at: kinds.map(({ grouped }) => filledByLevel(column, grouped, persons)),
      },
    ];
  });
  return {
    rows: countUnits(everybody.rows, persons),
    levels: kinds.map(({ kind, levels, grouped }) => ({
      kind,
      title: LEVEL_WORDS[kind],
      labels: levels.labels,
      sizes: levels.labels.map((_, at) =>
        countUnits(grouped.rows.subarray(grouped.ends[at - 1] ?? 0, grouped.ends[at]), persons),
      ),
      surgeons: kind === "centre" && surgeon !== undefined ? surgeonsAt(levels, surgeon) : [],
    })),
    fields,
  };
}

function missingRows(column: Column, persons: RowCodes) {
  const unreadable = column.missingReasons.indexOf(UNREADABLE_REASON) + 1;
  const rows: { refused: number[]; blank: number[] } = { refused: [], blank: [] };
  column.missing.forEach((reason, row) => {
    if (reason !== 0) rows[reason === unreadable ? "refused" : "blank"].push(row);
  });
  return { unreadable: countUnits(rows.refused, persons), blank: countUnits(rows.blank, persons) };
}

function surgeonsAt(levels: RowLevels, surgeon: RowLevels): number[] {
  const found = levels.labels.map(() => new Set<number>());
  levels.codes.forEach((level, row) => {
    const operating = surgeon.codes[row] ?? NO_LEVEL;
    if (level !== NO_LEVEL && operating !== NO_LEVEL) found[level]?.add(operating);
  });
  return found.map(({ size }) => size);
}
