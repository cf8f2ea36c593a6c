import type { Column } from "../../base/column.ts";
import { planError } from "../../base/plan-error.ts";
import type { Cases } from "../../cases/cases.ts";
import { type CovariateTable, covariateTable } from "../../summaries/covariate-table.ts";
import { namedColumn } from "../../technique/named-column.ts";
import type { RowCodes } from "../../technique/row-codes.ts";
import { fieldTitle } from "../../technique/step-states.ts";
import type { StudyObservations } from "../observations.ts";
import { recordedColumn } from "./recorded-column.ts";

/** The plan's covariates for the rows compared, technique steps among them in their own recorded states. */
export function covariates(
  cases: Cases,
  { observations, rows }: StudyObservations,
  names: readonly string[],
  persons: RowCodes,
): CovariateTable {
  const chosen = names.map((name) => {
    const column = covariateColumn(cases, name);
    return { label: fieldTitle(cases, column.field), column: recordedColumn(cases, column) };
  });
  return covariateTable({
    covariates: chosen,
    rows,
    group: observations.group,
    persons: rows.map((row) => persons.codes[row] ?? 0),
  });
}

/**
 * The field that a plan names as a covariate.
 *
 * @param place where in the plan it stands.
 * @throws UsageError where the export has no such field, or it is text.
 */
export function covariateColumn(cases: Cases, name: string, place = "covariates"): Column {
  const column = namedColumn(cases, name, place);
  if (column.kind !== "text") return column;
  const what = `field "${column.field}" is free text or an identifier; name a number, date or coded field`;
  throw planError([{ code: "covariate-is-text", place, what, written: name }]);
}
