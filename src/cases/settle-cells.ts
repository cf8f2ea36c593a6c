import type { Finding } from "../base/finding.ts";
import type { FindingLog } from "../base/finding-log.ts";
import { CELL, UNREADABLE_REASON } from "./cell-status.ts";
import type { ExportField } from "./descriptor.ts";
import type { MissingWords } from "./missing-words.ts";

const STATUS_FINDINGS: Readonly<Record<number, Pick<Finding, "code" | "severity">>> = {
  [CELL.serialNumber]: { code: "date-is-serial-number", severity: "error" },
  [CELL.spacesAround]: { code: "spaces-around-value", severity: "note" },
  [CELL.respelt]: { code: "word-respelt", severity: "note" },
};

/** Turns cell status into missing marks and findings. The status array becomes the mask: it was made for this column. */
export function settleCells(
  field: ExportField,
  status: Uint8Array,
  missing: MissingWords,
  unreadableCode: string,
  log: FindingLog,
  lineOfRow: Uint32Array,
): { field: string; missing: Uint8Array; missingReasons: readonly string[] } {
  const unreadable = missing.reasons.length + 1;
  let hasUnreadable = false;
  for (let row = 0; row < status.length; row += 1) {
    // The row is within the array.
    const cell = status[row]!;
    if (cell < CELL.unreadable) continue;
    if (cell === CELL.refused) {
      status[row] = unreadable;
      hasUnreadable = true;
      continue;
    }
    const finding = STATUS_FINDINGS[cell] ?? { code: unreadableCode, severity: "error" as const };
    log.add({ ...finding, row: row + 1, line: lineOfRow[row] ?? 0, field: field.name });
    const isValue = finding.severity === "note";
    status[row] = isValue ? CELL.present : unreadable;
    hasUnreadable ||= !isValue;
  }
  const missingReasons = hasUnreadable ? [...missing.reasons, UNREADABLE_REASON] : missing.reasons;
  return { field: field.name, missing: status, missingReasons };
}
