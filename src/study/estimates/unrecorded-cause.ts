import type { Answer } from "../../base/answer.ts";
import { computed } from "../../base/answer.ts";
import type { CoxColumn } from "../../regression/cox-result.ts";
import { type EValue, eValue } from "../../summaries/e-value.ts";
import type { StudyFacts } from "../facts.ts";
import type { Adjusted } from "./estimates.ts";
import { firstOver, type GroupRatio } from "./first-over.ts";

/** How strong something unrecorded would have to be to explain a ratio of two groups away. */
export interface UnrecordedCause {
  /** Place of the group that the first one is set against. */
  readonly other: number;
  /** Ticks (after, upTo]; undefined for all years. */
  readonly period?: { readonly after: number; readonly upTo: number | null; readonly place: number };
  readonly found: Answer<{ readonly ratio: GroupRatio; readonly needed: EValue }>;
}

/** Over this share of a group with the event, a hazard ratio no longer stands for a ratio of risks. Source: as `eValue`. */
const COMMON = 0.15;

/** For the ratios of the adjusted model, or of the groups alone where there is none. */
export function unrecordedCauses(found: Adjusted, { groups, plan }: StudyFacts): readonly UnrecordedCause[] {
  const model = plan.adjusters === undefined ? found.alone : found.adjusted;
  const isCommon = found.rows.sizes.some(({ units, events }) => events.units > COMMON * units);
  return groups.slice(1).flatMap((_, at): UnrecordedCause[] => {
    const other = at + 1;
    const of = (columns: readonly CoxColumn[]) =>
      explained(firstOver(columns, found.groupTerm, groups, other), isCommon);
    if (!model.computed) return [{ other, found: model }];
    const periods = model.byPeriod.computed ? model.byPeriod.periods : [];
    return [
      { other, found: of(model.fit.columns) },
      ...periods.map(({ after, upTo, columns }, place) => ({
        other,
        period: { after, upTo, place },
        found: of(columns),
      })),
    ];
  });
}

function explained(ratio: Answer<GroupRatio>, isCommon: boolean): UnrecordedCause["found"] {
  if (!ratio.computed) return ratio;
  return computed({
    ratio,
    needed: eValue(ratio, { of: "hazard", outcome: isCommon ? "common" : "rare" }),
  });
}
