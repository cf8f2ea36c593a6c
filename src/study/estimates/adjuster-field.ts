import type { Column } from "../../base/column.ts";
import { planError } from "../../base/plan-error.ts";
import type { PlanFault } from "../../base/plan-fault.ts";
import type { Cases } from "../../cases/cases.ts";
import { MOST_COLUMNS } from "../../regression/most-columns.ts";
import { namedColumn, unknownCode } from "../../technique/named-column.ts";
import type { Adjuster } from "../plan/plan.ts";
import { recordedColumn } from "./recorded-column.ts";

/**
 * The field that a plan adjusts for.
 *
 * @param place where in the plan it stands.
 * @throws UsageError where the export has no such field, or it is text.
 */
export function adjusterField(cases: Cases, name: string, place = "adjusters"): Column {
  const column = namedColumn(cases, name, place);
  if (column.kind !== "text") return column;
  const what = `field "${column.field}" is free text or an identifier; name a number, date or coded field`;
  throw planError([{ code: "adjuster-is-text", place, what, written: name }]);
}

/**
 * Refuses an adjuster that does not fit its field: a curve of codes, a reference among numbers, an unknown reference.
 *
 * @param place of the adjuster in the plan.
 * @throws UsageError `adjuster-form`, or that of an unknown field.
 */
export function requireAdjuster(cases: Cases, adjuster: Adjuster, place: string): void {
  const { field, reference } = adjuster;
  const column = adjusterField(cases, field, `${place}.field`);
  const [key, what] = formFault(column, adjuster) ?? [];
  if (key !== undefined && what !== undefined) {
    throw planError([{ code: "adjuster-form", place: `${place}.${key}`, what } satisfies PlanFault]);
  }
  const compared = recordedColumn(cases, column);
  if (reference === undefined || compared.kind !== "code" || compared.codes.includes(reference)) return;
  const at = { code: "adjuster-form", place: `${place}.reference`, written: reference };
  throw planError([unknownCode(cases, compared, at)]);
}

/** The key of the adjuster that its field cannot have, and why. */
function formFault(
  column: Column,
  { curve, reference }: Adjuster,
): readonly ["reference" | "field" | "curve", string] | undefined {
  const named = `field "${column.field}"`;
  if (column.kind !== "code") {
    const why = `${named} holds no codes, so nothing to compare with; leave it out`;
    return reference === undefined ? undefined : ["reference", why];
  }
  if (column.codes.length > MOST_COLUMNS)
    return ["field", `${named} has over ${MOST_COLUMNS} codes, too many to fit; put codes together first`];
  return curve ? ["curve", `${named} holds codes, which have no curve; leave it out`] : undefined;
}
