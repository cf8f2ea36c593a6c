import { UsageError } from "../../base/errors.ts";
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
    const column = namedColumn(cases, name, "covariates");
    if (column.kind === "text") {
      throw new UsageError(
        "covariate-is-text",
        `covariates: field "${column.field}" is free text or an identifier; name a number, date or coded field`,
      );
    }
    return { label: fieldTitle(cases, column.field), column: recordedColumn(cases, column) };
  });
  return covariateTable({
    covariates: chosen,
    rows,
    group: observations.group,
    persons: rows.map((row) => persons.codes[row] ?? 0),
  });
}
