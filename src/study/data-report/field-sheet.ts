import type { Cases } from "../../cases/cases.ts";
import type { ExportField } from "../../cases/descriptor.ts";
import { caseFields } from "../../cases/descriptor-rules.ts";
import { isFollowUpRole } from "../../cases/roles.ts";
import type { RowCodes, UnitCount } from "../../technique/row-codes.ts";
import {
  centreLevels,
  NO_LEVEL,
  operationYearLevels,
  type RowLevels,
  surgeonLevels,
} from "../../technique/row-levels.ts";
import { LEVEL_WORDS } from "./data-keys.ts";
import { type FilledCount, filledByLevel, missingUnits } from "./filled-counts.ts";
import { rowsByLevel } from "./units-by-level.ts";

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
  const everybody = rowsByLevel({ labels: ["all"], codes: new Int32Array(cases.rows) }, persons);
  const surgeon = surgeonLevels(cases);
  const kinds = [
    { kind: "year" as const, found: operationYearLevels(cases) },
    { kind: "centre" as const, found: centreLevels(cases) },
  ].flatMap(({ kind, found }) =>
    found === undefined ? [] : [{ kind, levels: found, grouped: rowsByLevel(found, persons) }],
  );
  const divisions = [everybody, ...kinds.map(({ grouped }) => grouped)];
  const fields = caseFields(cases.descriptor).flatMap((field): FieldFilled[] => {
    const column = cases.columns.get(field.name);
    if (column === undefined) return [];
    const [[all] = [], ...at] = filledByLevel(column, divisions);
    if (all === undefined) return [];
    const title = field.title ?? field.name;
    return [{ field, title, isOptional: saysByBlank(field), all, ...missingUnits(column, everybody), at }];
  });
  return {
    rows: everybody.sizes[0] ?? { units: 0, persons: 0 },
    levels: kinds.map(({ kind, levels, grouped }) => ({
      kind,
      title: LEVEL_WORDS[kind],
      labels: levels.labels,
      sizes: grouped.sizes,
      surgeons: kind === "centre" && surgeon !== undefined ? surgeonsAt(levels, surgeon) : [],
    })),
    fields,
  };
}

/** A blank cell says that something did not happen, not that nobody wrote it down. */
function saysByBlank({ role = "" }: ExportField): boolean {
  return role === "entryDate" || isFollowUpRole(role);
}

function surgeonsAt(levels: RowLevels, surgeon: RowLevels): number[] {
  const found = levels.labels.map(() => new Set<number>());
  levels.codes.forEach((level, row) => {
    const operating = surgeon.codes[row] ?? NO_LEVEL;
    if (level !== NO_LEVEL && operating !== NO_LEVEL) found[level]?.add(operating);
  });
  return found.map(({ size }) => size);
}
