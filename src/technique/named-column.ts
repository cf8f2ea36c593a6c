import type { CodeColumn, Column } from "../base/column.ts";
import { nearestWord } from "../base/nearest-word.ts";
import { planError } from "../base/plan-error.ts";
import { type PlanFault, type UnknownWord, unknownWord } from "../base/plan-fault.ts";
import type { Cases } from "../cases/cases.ts";
import { columnOfRole } from "../cases/column-of-role.ts";
import { caseFields } from "../cases/descriptor-rules.ts";
import { isFieldRole } from "../cases/roles.ts";

const ROLE_PREFIX = "role:";

/**
 * The column that a plan means: a field name, or the role it carries written as "role:diagnosis".
 *
 * @param place where in the plan the name stands, as "covariates[2]".
 * @throws UsageError `unknown-role`, `role-not-in-export` or `unknown-field`, with the nearest name and those that exist.
 */
export function namedColumn(cases: Cases, name: string, place: string): Column {
  const role = name.startsWith(ROLE_PREFIX) ? name.slice(ROLE_PREFIX.length) : undefined;
  const column = role === undefined ? cases.columns.get(name) : columnOfWord(cases, role);
  if (column !== undefined) return column;
  throw planError([role === undefined ? noField(cases, name, place) : noRole(cases, role, place)]);
}

/** Whether the dictionary lists the codes of a column. If not, they are words out of the file. */
export function isDeclared(cases: Cases, column: CodeColumn): boolean {
  return caseFields(cases.descriptor).some(({ name, categories }) => name === column.field && categories);
}

/** That a field has no such code. Codes that stand only in the file are counted, and neither shown nor compared. */
export function unknownCode(
  cases: Cases,
  column: CodeColumn,
  at: Pick<UnknownWord, "code" | "place" | "written">,
): PlanFault {
  const { field, codes } = column;
  const is = `is no code of field "${field}"`;
  if (isDeclared(cases, column)) {
    return unknownWord({ ...at, is, known: { heading: `Codes of field "${field}"`, words: codes } });
  }
  const otherwise = `the dictionary does not list the ${codes.length} that it holds; declare them as categories`;
  return unknownWord({ ...at, is, otherwise });
}

/** A list for a message: "a", "b", "c". */
export function quoted(words: readonly string[]): string {
  return words.length === 0 ? "none" : words.map((word) => `"${word}"`).join(", ");
}

function columnOfWord(cases: Cases, role: string): Column | undefined {
  return isFieldRole(role) ? columnOfRole(cases, role) : undefined;
}

function noField(cases: Cases, written: string, place: string): PlanFault {
  const fields = [...cases.columns.keys()];
  const role = nearestWord(written, [...cases.fieldOfRole.keys()]);
  return unknownWord({
    code: "unknown-field",
    place,
    written,
    is: "is no field of the export",
    known: { heading: "Fields of the export", words: fields },
    nearest: nearestWord(written, fields) ?? (role && ROLE_PREFIX + role),
  });
}

function noRole(cases: Cases, role: string, place: string): PlanFault {
  const written = ROLE_PREFIX + role;
  const known = {
    heading: "Roles in the export",
    words: [...cases.fieldOfRole.keys()].map((each) => ROLE_PREFIX + each),
  };
  if (isFieldRole(role)) {
    const what = `no field of the export has the role "${role}"; give the field its role in the dictionary, or leave it out`;
    return { code: "role-not-in-export", place, what, written, known };
  }
  const near = nearestWord(role, [...cases.fieldOfRole.keys()]);
  const nearest = near && ROLE_PREFIX + near;
  return unknownWord({ code: "unknown-role", place, written, is: "names no role", known, nearest });
}
