import type { Column } from "../base/column.ts";
import type { Cases } from "./cases.ts";
import type { FieldRole } from "./roles.ts";

/** The column that carries a role, or undefined where the export has none. */
export function columnOfRole(cases: Cases, role: FieldRole): Column | undefined {
  const field = cases.fieldOfRole.get(role);
  return field === undefined ? undefined : cases.columns.get(field);
}
