import type { CodeColumn, Column } from "../base/column.ts";
import { UsageError } from "../base/errors.ts";
import type { Cases } from "../cases/cases.ts";
import { columnOfRole } from "../cases/column-of-role.ts";
import { caseFields } from "../cases/descriptor-rules.ts";
import { isFieldRole } from "../cases/roles.ts";

const ROLE_PREFIX = "role:";

/**
 * The column that a plan means: a field name, or the role it carries written as "role:diagnosis".
 *
 * @throws UsageError `unknown-role`, `role-not-in-export` or `unknown-field`, naming what the export holds.
 */
export function namedColumn(cases: Cases, name: string, where: string): Column {
  if (name.startsWith(ROLE_PREFIX)) return roleColumn(cases, name.slice(ROLE_PREFIX.length), where);
  const column = cases.columns.get(name);
  if (column === undefined) {
    throw new UsageError(
      "unknown-field",
      `${where}: the export has no field "${name}"; its fields are ${quoted([...cases.columns.keys()])}`,
    );
  }
  return column;
}

/** Whether the dictionary lists the codes of a column. If not, they are words out of the file. */
export function isDeclared(cases: Cases, column: CodeColumn): boolean {
  return caseFields(cases.descriptor).some(({ name, categories }) => name === column.field && categories);
}

/** The codes a plan can name, for a message; words that stand only in the file are counted, not shown. */
export function codesInWords(cases: Cases, column: CodeColumn): string {
  if (isDeclared(cases, column)) return `its codes are ${quoted(column.codes)}`;
  return `it holds ${column.codes.length} codes that the dictionary does not list (declare them as categories)`;
}

/** A list for a message: "a", "b", "c". */
export function quoted(words: readonly string[]): string {
  return words.length === 0 ? "none" : words.map((word) => `"${word}"`).join(", ");
}

function roleColumn(cases: Cases, role: string, where: string): Column {
  if (!isFieldRole(role)) {
    throw new UsageError(
      "unknown-role",
      `${where}: "${role}" is no role; the roles in this export are ${quoted([...cases.fieldOfRole.keys()])}`,
    );
  }
  const column = columnOfRole(cases, role);
  if (column === undefined) {
    throw new UsageError(
      "role-not-in-export",
      `${where}: no field of the export has the role "${role}"; the roles in it are ` +
        `${quoted([...cases.fieldOfRole.keys()])}; give the field its role in the descriptor`,
    );
  }
  return column;
}
