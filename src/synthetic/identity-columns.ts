import type { DrawnCases } from "./drawn-cases.ts";
import { codedColumn, dateColumn, type ExportColumn, textColumn } from "./export-column.ts";
import { FIRST_OPERATION_DATE, LAST_OPERATION_DATE } from "./planted-truth.ts";

const SIDES = [
  ["left", "left knee"],
  ["right", "right knee"],
] as const;

/** Which knee of whom, done where, by whom and when; all of it in codes. */
export function identityColumns({ operations, surgeons }: DrawnCases): readonly ExportColumn[] {
  const { patient, surgeon, right } = operations;
  const knees = coder("K", operations.knees, 6);
  const patients = coder("P", operations.patients, 5);
  const operators = coder("S", surgeons.count, 2);
  const centres = coder("C", surgeons.centres, 1);
  const surgeonOf = (row: number) => surgeon[row] ?? 0;
  return [
    textColumn(
      { name: "case_id", role: "caseId", title: "Knee", description: "Coded number of the knee." },
      knees,
      { unique: true },
    ),
    textColumn(
      {
        name: "patient_id",
        role: "patientId",
        title: "Patient",
        description: "Coded number of the patient; both knees of a patient carry it.",
      },
      (row) => patients(patient[row] ?? 0),
    ),
    codedColumn(
      { name: "side", role: "side", title: "Side", description: "Side of the knee." },
      SIDES,
      (row) => right[row] ?? 0,
    ),
    textColumn({ name: "centre", role: "centre", title: "Centre", description: "Coded centre." }, (row) =>
      centres(surgeons.centre[surgeonOf(row)] ?? 0),
    ),
    textColumn(
      {
        name: "surgeon",
        role: "surgeon",
        title: "Surgeon",
        description: "Coded surgeon who answers for the operation.",
      },
      (row) => operators(surgeonOf(row)),
    ),
    dateColumn(
      {
        name: "operation_date",
        role: "operationDate",
        title: "Operation date",
        description: "Day of the primary operation.",
      },
      operations.operationDay,
      { constraints: { required: true, minimum: FIRST_OPERATION_DATE, maximum: LAST_OPERATION_DATE } },
    ),
  ];
}

/** Codes such as K000001: a letter and the place counted from 1, all of one length. */
function coder(letter: string, count: number, shortest: number): (place: number) => string {
  const width = Math.max(shortest, String(count).length);
  return (place) => letter + String(place + 1).padStart(width, "0");
}
