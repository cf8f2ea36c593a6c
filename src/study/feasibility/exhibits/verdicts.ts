import { capital, numbered } from "../../../base/words.ts";
import type { Cell, TableExhibit } from "../../../disclosure/exhibit.ts";
import { countCell, sized, textCell } from "../../sections/cells.ts";
import { levelWords, listed } from "../../words.ts";
import type { QuestionFeasibility } from "../question.ts";
import type { FeasibilityRun } from "../run-feasibility.ts";
import { VERDICTS } from "../verdict.ts";
import { outcomeAt } from "./periods.ts";
import { comparedRelation, groupCounts, partCounts, stepKeys } from "./step-counts.ts";

/** The verdict on every step for one outcome, and the numbers it rests on. */
export function verdictsExhibit(run: Omit<FeasibilityRun, "exhibits">, at: number): TableExhibit {
  const { asked, questions } = outcomeAt(run, at);
  const { label } = asked.endpoint.event;
  return {
    kind: "table",
    id: `verdicts-${at + 1}`,
    title: `Which steps can be asked about ${label}`,
    columns: [
      { id: "step", label: "Step" },
      { id: "verdict", label: "Verdict" },
      { id: "reason", label: "Because" },
      { id: "events", label: "Events", align: "end" },
      { id: "smallest", label: "Smallest ratio", align: "end" },
      { id: "matters", label: "Ratio that matters", align: "end" },
      { id: "units", label: `${capital(run.descriptor.study.unit.many)} needed`, align: "end" },
      { id: "years", label: "Years needed", align: "end" },
    ],
    rows: questions.map((question) => ({
      label: question.title,
      cells: [
        textCell(VERDICTS[question.verdict.kind]),
        textCell(reasonOf(question)),
        ...numbersOf(question, label, run.rules.longestYears),
      ],
    })),
    notes: [
      `Smallest ratio: of hazards, with ${levelWords(run.rules.power)} chance of being seen, two-sided, level ${Number(run.level.toPrecision(2))} (${run.comparisons} planned ${run.comparisons === 1 ? "comparison" : "comparisons"} in all). Events are those of both groups together.`,
      ...("per1000" in asked.smallestDifferenceThatMatters
        ? [
            `What matters: ${asked.smallestDifferenceThatMatters.per1000} per 1000 at ${numbered(asked.year, "year")} (${asked.smallestDifferenceThatMatters.reason}), written as a ratio of hazards at the risk of all together.`,
          ]
        : [
            `What matters: a ratio of ${asked.smallestDifferenceThatMatters.ratio} (${asked.smallestDifferenceThatMatters.reason}).`,
          ]),
      `Years needed: from the first operation, at this export's volume and rates, until a difference that matters has ${levelWords(run.rules.power)} chance of being seen.`,
    ],
    relations: questions.flatMap((question) => [
      comparedRelation(question),
      ...(question.within === undefined
        ? []
        : partCounts(question, stepKeys.events(label, question.title), question.within).relations),
    ]),
    settings: { level: run.level, power: run.rules.power, plannedComparisons: run.comparisons },
  };
}

/** Places for "within", the rule otherwise; where both hold, both. */
function reasonOf({ verdict: { kind, because, within } }: QuestionFeasibility): string {
  if (kind === "within") return listed(within);
  return kind === "large" && within.length > 0 ? `${because}, even within ${listed(within)}` : because;
}

function numbersOf(question: QuestionFeasibility, outcome: string, longestYears: number): Cell[] {
  const { compared, within, matters, years, title } = question;
  const used = within ?? compared;
  const all = stepKeys.events(outcome, title);
  const events = sized(within === undefined ? all : `${all}/within`, used.events);
  const restsOn = [
    events,
    ...groupCounts(question),
    ...(within === undefined ? [] : partCounts(question, all, within).restsOn),
  ];
  const number = (value: number, decimals: number): Cell => ({ kind: "number", value, decimals, restsOn });
  const { smallest } = used;
  return [
    countCell(events),
    smallest.computed ? number(smallest.ratio, smallest.ratio < 10 ? 2 : 0) : textCell("none"),
    matters.computed ? number(matters.ratio, 2) : textCell("none"),
    years.computed ? number(years.units, 0) : textCell("none"),
    years.computed
      ? number(years.years, 0)
      : textCell(years.code === "too-long" ? `over ${longestYears}` : "none"),
  ];
}
