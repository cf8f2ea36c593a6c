import type { Cell, Count, TableExhibit } from "../../disclosure/exhibit.ts";
import type { StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import type { QuestionFeasibility } from "../feasibility/question.ts";
import { periodWords } from "../words.ts";
import { eventsTogether, keys, noCell, sized } from "./cells.ts";

/** The smallest ratio that each period alone could show: only its own events count. */
export function periodRatiosExhibit(
  estimates: StudyEstimates,
  { periods }: QuestionFeasibility,
  facts: StudyFacts,
): TableExhibit {
  const { compared } = estimates;
  const groups = compared.map((group) => sized(keys.group(group.label), group));
  const all = eventsTogether(compared, facts.cause).total;
  const inPeriod = (at: number): Count =>
    sized(`${all.key}/period:${at}`, periods[at]?.events ?? { units: 0, persons: 0 });
  return {
    kind: "table",
    id: "feasibility-periods",
    title: "The same for each period, from its own events alone",
    columns: [
      { id: "period", label: "Period" },
      { id: "events", label: `${facts.words.event.many}, groups together`, align: "end" },
      { id: "smallest", label: "Smallest ratio", align: "end" },
    ],
    rows: periods.map(({ fromYear, toYear, smallest }, at) => ({
      label: periodWords(fromYear, toYear),
      cells: [
        { kind: "count", count: inPeriod(at) },
        smallest.computed
          ? ({
              kind: "number",
              value: smallest.ratio,
              decimals: smallest.ratio < 10 ? 1 : 0,
              restsOn: [inPeriod(at), ...groups],
            } satisfies Cell)
          : noCell(smallest),
      ],
    })),
    relations: [
      { total: all, parts: periods.map((_, at) => inPeriod(at)) },
      ...periods.map((_, at) => ({
        total: inPeriod(at),
        parts: compared.map(({ label, eventsByPeriod }) =>
          sized(keys.eventsInPeriod(facts.cause, label, at), eventsByPeriod[at] ?? { units: 0, persons: 0 }),
        ),
      })),
    ],
  };
}
