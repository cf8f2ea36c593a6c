import { type Answer, computed, type NotComputed, notComputed } from "../../base/answer.ts";
import type { FittedColumn } from "../../regression/coefficient.ts";
import type { CoxColumn } from "../../regression/cox-result.ts";

/** A ratio of two groups with its limits. */
export interface GroupRatio {
  readonly ratio: number;
  readonly lower: number;
  readonly upper: number;
  readonly p: number;
}

/**
 * The hazard ratio of the first group over another one. The models have it the other way round, because the first group is
 * their reference; a ratio and its limits turn over exactly.
 */
export function firstOver(
  columns: readonly (CoxColumn | FittedColumn)[],
  term: string,
  groups: readonly string[],
  other: number,
): Answer<GroupRatio> {
  const name = `${term}: ${groups[other]} against ${groups[0]}`;
  // By period the name goes on: "…, 0 to 1095".
  const column = columns.find((one) => one.column === name || one.column.startsWith(`${name},`));
  if (column === undefined) return notComputed("no-rows", "no row of the group has every value recorded");
  const found = ratioOf(column);
  if (!found.computed) return found;
  return computed({ ratio: 1 / found.ratio, lower: 1 / found.upper, upper: 1 / found.lower, p: found.p });
}

function ratioOf(column: CoxColumn | FittedColumn): Answer<GroupRatio> {
  if ("hazardRatio" in column)
    return column.hazardRatio.computed ? column.hazardRatio : inWords(column.hazardRatio);
  const { coefficient } = column;
  if (!coefficient.computed) return inWords(coefficient);
  const { ratio, p } = coefficient;
  if (ratio === undefined) return notComputed("no-ratio", "the model gives no ratio");
  return computed({ ratio: ratio.value, lower: ratio.lower, upper: ratio.upper, p });
}

/** Separation without its direction, which turns over with the groups, and in words that ask for no glossary. */
function inWords(answer: NotComputed): NotComputed {
  if (answer.code !== "separation") return answer;
  return notComputed("separation", "no ratio: one of the two had no event there; see the rates");
}
