import { fixed, percent } from "../../base/display.ts";
import { type TimeUnit, yearsOfTicks } from "../../base/time-unit.ts";
import type { Cell, TableExhibit } from "../../disclosure/exhibit.ts";
import type { TimeReached, TimeToFraction } from "../../survival/time-to-fraction.ts";
import type { StudyFacts } from "../facts.ts";
import { article, levelWords } from "../words.ts";
import { limitsCell, noCell, textCell } from "./cells.ts";

/** How long until stated shares have had the event. */
export function timesExhibit(times: readonly TimeToFraction[], facts: StudyFacts): TableExhibit {
  return {
    kind: "table",
    id: "times",
    title: `Years until a stated share would have had ${article(facts.words.event.one)} for ${facts.cause}`,
    columns: [
      { id: "group", label: "Group" },
      ...times.map(({ settings }) => ({
        id: `share-${1000 * settings.fraction}`,
        label: percent(settings.fraction, 0),
        align: "end" as const,
      })),
    ],
    rows: facts.groups.map((label, group) => ({
      label,
      cells: times.map(({ groups, timeUnit }) => timeCell(groups[group]?.time, timeUnit)),
    })),
    notes: [
      `Net risk, with the ${levelWords(facts.level)} interval of the curve itself. The first ${facts.timeUnit.word} on which at most the rest remain.`,
    ],
    settings: { estimate: "time to a fraction", level: facts.level },
  };
}

function timeCell(time: TimeToFraction["groups"][number]["time"] | undefined, unit: TimeUnit): Cell {
  if (time === undefined) return textCell("");
  if (!time.computed) return noCell(time);
  const { estimate, lower, upper } = time;
  if (estimate.reached && lower.reached && upper.reached) {
    const years = [estimate.tick, lower.tick, upper.tick].map((tick) => yearsOfTicks(tick, unit));
    return limitsCell([years[0] ?? 0, years[1] ?? 0, years[2] ?? 0], 1, []);
  }
  if (!estimate.reached && !lower.reached) return textCell(words(estimate, unit));
  return textCell(`${words(estimate, unit)} (${words(lower, unit)} to ${words(upper, unit)})`);
}

function words(time: TimeReached, unit: TimeUnit): string {
  return time.reached
    ? fixed(yearsOfTicks(time.tick, unit), 1)
    : `not reached by ${fixed(yearsOfTicks(time.followedTo, unit), 1)}`;
}
