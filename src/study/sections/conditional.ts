import type { Answer } from "../../base/answer.ts";
import { yearsOfTicks } from "../../base/time-unit.ts";
import type { Cell, TableExhibit } from "../../disclosure/exhibit.ts";
import type { SurvivalCurve, YearValue } from "../../survival/results.ts";
import type { StudyFacts } from "../facts.ts";
import { article, levelWords, yearWords } from "../words.ts";
import { limitsCell, noCell, textCell } from "./cells.ts";

/** Net risk by later years among those without the event at a stated one. */
export function conditionalExhibit(
  answer: Answer<SurvivalCurve>,
  facts: StudyFacts,
): readonly TableExhibit[] {
  if (!answer.computed) return [];
  const { settings, groups, timeUnit } = answer;
  const given = Math.round(yearsOfTicks(settings.from ?? 0, timeUnit));
  const years = groups[0]?.atYears ?? [];
  return [
    {
      kind: "table",
      id: "conditional-risk",
      title: `Net risk, given no ${facts.words.event.one} for ${facts.cause} by ${yearWords(given)}`,
      columns: [
        { id: "group", label: "Group" },
        ...years.map((_, at) => ({
          id: `year-${at}`,
          label: `By ${yearWords(yearAt(facts, given, at))}`,
          align: "end" as const,
        })),
      ],
      rows: groups.map(({ group, atYears }) => ({ label: group, cells: atYears.map(riskCell) })),
      notes: [
        `Per cent, with the ${levelWords(facts.level)} interval. Among those who had reached ${yearWords(given)} without ${article(facts.words.event.one)} for ${facts.cause}; years still count from the start.`,
      ],
      settings: { ...settings },
    },
  ];
}

function yearAt(facts: StudyFacts, given: number, at: number): number {
  return facts.plan.years.filter((year) => year > given)[at] ?? 0;
}

function riskCell(value: Answer<YearValue>): Cell {
  if (!value.computed) return noCell(value);
  const { value: kept, lower, upper } = value;
  if (lower === null || upper === null) return textCell("nobody left under observation");
  return limitsCell([100 * (1 - kept), 100 * (1 - upper), 100 * (1 - lower)], 2, []);
}
