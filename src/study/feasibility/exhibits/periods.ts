import type { Cell, TableExhibit } from "../../../disclosure/exhibit.ts";
import { sized, textCell } from "../../sections/cells.ts";
import { periodWords } from "../../words.ts";
import type { QuestionFeasibility } from "../question.ts";
import type { FeasibilityRun } from "../run-feasibility.ts";
import { groupCounts, stepKeys } from "./step-counts.ts";

/** The smallest ratio that each period alone could show: only its own events count. */
export function periodsExhibit(run: Omit<FeasibilityRun, "exhibits">, at: number): TableExhibit {
  const { asked, questions } = outcomeAt(run, at);
  const { label } = asked.endpoint.event;
  const periods = questions[0]?.periods ?? [];
  return {
    kind: "table",
    id: `periods-${at + 1}`,
    title: `Smallest ratio for ${label} in each period, from that period's events alone`,
    columns: [
      { id: "step", label: "Step" },
      ...periods.map(({ fromYear, toYear }, place) => ({
        id: `period-${place}`,
        label: periodWords(fromYear, toYear),
        align: "end" as const,
      })),
    ],
    rows: questions.map((question) => ({
      label: question.title,
      cells: question.periods.map((period, place): Cell => {
        if (!period.smallest.computed) return textCell("none");
        return {
          kind: "numbers",
          form: "{0}",
          values: [period.smallest.ratio],
          decimals: period.smallest.ratio < 10 ? 1 : 0,
          restsOn: [periodEvents(question, label, place), ...groupCounts(question)],
        };
      }),
    })),
    notes: ["A change over the years is a question of its own: it needs enough events in every period."],
    relations: questions.map((question) => ({
      total: sized(stepKeys.events(label, question.title), question.compared.events),
      parts: question.periods.map((_, place) => periodEvents(question, label, place)),
    })),
  };
}

function periodEvents({ title, periods }: QuestionFeasibility, outcome: string, place: number) {
  const events = periods[place]?.events ?? { units: 0, persons: 0 };
  return sized(`${stepKeys.events(outcome, title)}/in-${place}`, events);
}

export function outcomeAt(run: Omit<FeasibilityRun, "exhibits">, at: number) {
  const outcome = run.outcomes[at];
  if (outcome === undefined) throw new Error("there is such an outcome");
  return outcome;
}
