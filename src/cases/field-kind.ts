import type { Column } from "../base/column.ts";
import type { ExportField } from "./descriptor.ts";

/** Roles whose text is an identifier: kept byte for byte, never a number, never respelt. */
const IDENTIFIER_ROLES: readonly string[] = ["caseId", "patientId"];

/** Words that the open standard takes for true and false. */
export const BOOLEAN_WORDS = {
  true: ["true", "True", "TRUE", "1"],
  false: ["false", "False", "FALSE", "0"],
} as const;

/**
 * How a field is stored.
 *
 * A list of categories makes a code whatever the type says: grades written as digits are names, not
 * amounts. A string without categories becomes a code of the words met, or text where they are too many.
 */
export function kindOfField(field: ExportField): Column["kind"] {
  if (isIdentifier(field)) return "text";
  if (field.categories !== undefined) return "code";
  if (field.type === "date") return "day";
  if (field.type === "integer" || field.type === "number") return "number";
  return "code";
}

export function isIdentifier(field: ExportField): boolean {
  return IDENTIFIER_ROLES.includes(field.role ?? "");
}
