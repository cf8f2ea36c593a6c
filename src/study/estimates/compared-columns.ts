import type { CodeColumn, Column } from "../../base/column.ts";
import { gather } from "../../base/gather.ts";
import { TIME_UNITS, yearsOfTicks } from "../../base/time-unit.ts";
import type { Cases } from "../../cases/cases.ts";
import type { StudyObservations } from "../observations.ts";
import type { Adjuster } from "../plan/plan.ts";
import { adjusterField } from "./adjuster-field.ts";
import { recordedColumn } from "./recorded-column.ts";

/** A column of the cases with the values of the rows compared alone, under the name the plan gives it. */
export function adjusterColumn(cases: Cases, { rows }: StudyObservations, { field }: Adjuster): Column {
  return { ...pick(recordedColumn(cases, adjusterField(cases, field)), rows), field };
}

/** The groups compared as a coded column. */
export function groupColumn({ observations, rows }: StudyObservations, field: string): CodeColumn {
  const { codes, labels } = observations.group;
  return {
    kind: "code",
    field,
    values: codes,
    codes: labels,
    labels,
    missing: new Uint8Array(rows.length),
    missingReasons: [],
  };
}

function pick(column: Column, rows: Int32Array): Column {
  const missing = gather(column.missing, rows);
  switch (column.kind) {
    case "text":
      return { ...column, missing, values: Array.from(rows, (row) => column.values[row] ?? "") };
    case "number":
      return { ...column, missing, values: gather(column.values, rows) };
    case "code":
      return { ...column, missing, values: gather(column.values, rows) };
    case "day": {
      // Years, which a reader can take a step of.
      const years = new Float64Array(gather(column.values, rows)).map((day) =>
        yearsOfTicks(day, TIME_UNITS.day),
      );
      return { ...column, kind: "number", missing, values: years };
    }
  }
}
