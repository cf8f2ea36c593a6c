import type { Cases } from "../../cases/cases.ts";
import { countUnits, type RowCodes } from "../../technique/row-codes.ts";
import {
  centreLevels,
  fieldLevels,
  NO_LEVEL,
  operationYearLevels,
  type RowLevels,
  surgeonLevels,
} from "../../technique/row-levels.ts";
import { type LevelStates, statesByLevel } from "../../technique/states-by-level.ts";
import { type StepsTogether, stepsTogether } from "../../technique/steps-together.ts";
import type { RecordedStep } from "../recorded-steps.ts";
import type { FeasibilityRules } from "./rules.ts";

/** The four states of every step at the levels of one kind. */
export interface StatesAtLevels {
  readonly title: string;
  readonly steps: readonly {
    readonly label: string;
    readonly levels: readonly LevelStates[];
    /** Those at no level; undefined where everybody is at one. */
    readonly elsewhere: LevelStates | undefined;
  }[];
  /** How many surgeons operate at each level; empty where the export has no surgeons. */
  readonly surgeons: ReadonlyMap<string, number>;
}

/** Who does which step, where, when and with what. */
export interface ExposureTables {
  readonly overTime: StatesAtLevels | undefined;
  readonly byCentre: StatesAtLevels | undefined;
  readonly byStratum: readonly StatesAtLevels[];
  readonly bySurgeon: StatesAtLevels | undefined;
  readonly together: readonly {
    readonly first: string;
    readonly second: string;
    readonly counts: StepsTogether;
  }[];
}

/** Counts of exposure alone; nothing here knows what happened afterwards. */
export function exposureTables(
  cases: Cases,
  rows: Int32Array,
  steps: readonly RecordedStep[],
  strata: readonly string[],
  rules: FeasibilityRules,
  persons: RowCodes,
): ExposureTables {
  const surgeon = surgeonLevels(cases);
  const at = (levels: RowLevels): StatesAtLevels => ({
    title: levels.title,
    steps: steps.map(({ label, states }) => ({
      label,
      levels: statesByLevel(states, rows, levels, persons),
      elsewhere: statesByLevel(states, rows, atNoLevel(levels), persons)[0],
    })),
    surgeons: surgeon === undefined ? new Map() : surgeonsAt(rows, levels, surgeon),
  });
  const where = (levels: RowLevels | undefined) => (levels === undefined ? undefined : at(levels));
  return {
    overTime: where(operationYearLevels(cases, rules.yearsInBlock)),
    byCentre: where(centreLevels(cases)),
    byStratum: strata.map((name) => at(fieldLevels(cases, name))),
    bySurgeon: where(surgeon),
    together: steps.flatMap((first, place) =>
      steps.slice(place + 1).map((second) => ({
        first: first.label,
        second: second.label,
        counts: stepsTogether(first.states, second.states, rows, persons),
      })),
    ),
  };
}

/** The rows that belong to no level, as a level of their own. */
function atNoLevel({ title, codes }: RowLevels): RowLevels {
  return { title, labels: ["none"], codes: codes.map((code) => (code === NO_LEVEL ? 0 : NO_LEVEL)) };
}

function surgeonsAt(rows: Int32Array, levels: RowLevels, surgeon: RowLevels): Map<string, number> {
  const rowsOf = levels.labels.map((): number[] => []);
  for (const row of rows) {
    const level = levels.codes[row] ?? NO_LEVEL;
    if (level !== NO_LEVEL && surgeon.codes[row] !== NO_LEVEL) rowsOf[level]?.push(row);
  }
  const surgeons: RowCodes = { codes: surgeon.codes, count: surgeon.labels.length };
  return new Map(
    levels.labels.map((label, level) => [label, countUnits(rowsOf[level] ?? [], surgeons).persons]),
  );
}
