import { type Answer, computed, notComputed } from "../base/answer.ts";
import type { CoxColumn } from "../regression/cox-result.ts";

/**
 * The hazard ratio of the first group over another one. The model has it the other way round, because the first group is
 * its reference; a ratio and its limits turn over exactly.
 */
export function firstOver(
  columns: readonly CoxColumn[],
  term: string,
  groups: readonly string[],
  other: number,
): Answer<{ readonly ratio: number; readonly lower: number; readonly upper: number; readonly p: number }> {
  const name = `${term}: ${groups[other]} against ${groups[0]}`;
  const column = columns.find((one) => one.column === name || one.column.startsWith(`${name},`));
  if (column === undefined) return notComputed("no-rows", "no row of the group has every value recorded");
  const { hazardRatio } = column;
  if (!hazardRatio.computed) return hazardRatio;
  const { ratio, lower, upper, p } = hazardRatio;
  return computed({ ratio: 1 / ratio, lower: 1 / upper, upper: 1 / lower, p });
}
