import { type Column, isPresent, missingReason } from "../base/column.ts";
import type { FindingLog } from "../base/finding-log.ts";
import { UNREADABLE_REASON } from "./cell-status.ts";
import type { ExportField } from "./descriptor.ts";
import { forEachRepeat, rowCodes } from "./row-codes.ts";
import { inOtherUnit } from "./unit-check.ts";
import { valueLimits } from "./value-limits.ts";

/** Reports every row that breaks a constraint of its field. A missing value breaks `required` alone. */
export function checkConstraints(
  field: ExportField,
  column: Column,
  lineOfRow: Uint32Array,
  log: FindingLog,
): void {
  const { required = false, unique = false, minimum, maximum } = field.constraints ?? {};
  const add = (code: string, row: number, details?: Record<string, string | number>) =>
    log.add({
      code,
      severity: "error",
      row: row + 1,
      line: lineOfRow[row] ?? 0,
      field: field.name,
      ...(details && { details }),
    });
  // Who a case is cannot be missing, whatever the dictionary asks for.
  if (required || field.role === "caseId") {
    for (let row = 0; row < column.missing.length; row += 1) {
      // A cell that cannot be read was reported as that; it is filled, though with nothing of use.
      if (!isPresent(column, row) && missingReason(column, row) !== UNREADABLE_REASON)
        add("value-required", row);
    }
  }
  // Repeated cases are told apart by their other fields among the rules.
  if (unique && field.role !== "caseId") {
    forEachRepeat(rowCodes(column), (row, first) => add("value-repeated", row, { firstRow: first + 1 }));
  }
  const { isBelow, isAbove } = valueLimits(field, column);
  // A value in another unit breaks the limits because of it, and is told as that.
  const isTold = inOtherUnit(field, column);
  for (let row = 0; row < column.missing.length; row += 1) {
    if (isBelow(row) && !isTold(row)) add("value-below-minimum", row, { limit: minimum ?? "" });
  }
  for (let row = 0; row < column.missing.length; row += 1) {
    if (isAbove(row) && !isTold(row)) add("value-above-maximum", row, { limit: maximum ?? "" });
  }
}
