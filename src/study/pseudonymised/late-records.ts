import type { Cases } from "../../cases/cases.ts";
import type { ExportField } from "../../cases/descriptor.ts";
import type { TechniqueStep } from "../../cases/roles.ts";
import { stepStates } from "../../technique/step-states.ts";
import type { CellWriter } from "./output-fields.ts";

/** The cells of a step, blank where they were written down after the revision. */
export function unlessLate(cases: Cases, field: ExportField, cell: CellWriter): CellWriter {
  const step = stepWithDate(cases, field);
  if (step === undefined) return cell;
  const { late } = stepStates(cases, step);
  return (row) => (late[row] === 1 ? "" : cell(row));
}

/** How many records of each step were written down after the revision. */
export function lateRecords(cases: Cases, fields: readonly ExportField[]): ReadonlyMap<string, number> {
  return new Map(
    fields.flatMap((field): [string, number][] => {
      const step = stepWithDate(cases, field);
      return step === undefined ? [] : [[field.name, stepStates(cases, step).lateCount]];
    }),
  );
}

function stepWithDate(cases: Cases, { role = "" }: ExportField): TechniqueStep | undefined {
  const [prefix, step, part] = role.split(":");
  const isStep = prefix === "technique" && part === undefined;
  // The role was checked with the descriptor.
  const named = step as TechniqueStep;
  return isStep && cases.fieldOfRole.has(`technique:${named}:recordedOn`) ? named : undefined;
}
