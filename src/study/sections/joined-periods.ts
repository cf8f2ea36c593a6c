import { numbered } from "../../base/words.ts";
import type { StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { listed } from "../words.ts";

/** Why a table shows fewer periods than the plan declares; nothing where it shows them all. */
export function joinedPeriods({ rates }: StudyEstimates, { plan, words }: StudyFacts): readonly string[] {
  const ends = new Set(rates.periods.map(({ toYear }) => toYear));
  const gone = plan.periods.filter((year) => !ends.has(year)).map(String);
  if (gone.length === 0) return [];
  return [
    `The plan also cuts at ${numbered(listed(gone), "year")}; the periods on both sides of ${gone.length === 1 ? "that year" : "those years"} were joined, because one had under 10 ${words.event.many} in all.`,
  ];
}
