import type { TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { Adjusted } from "../estimates/estimates.ts";
import { type UnrecordedCause, unrecordedCauses } from "../estimates/unrecorded-cause.ts";
import type { StudyFacts } from "../facts.ts";
import { levelWords } from "../words.ts";
import { limitsCell, noCell, textCell } from "./cells.ts";
import { periodYears } from "./hazard-ratios.ts";
import { modelCounts } from "./model-counts.ts";

/** How strong something that nobody recorded would have to be. For analysts. */
export function unrecordedCauseExhibit(found: Adjusted, facts: StudyFacts): TableExhibit {
  const causes = unrecordedCauses(found, facts);
  return {
    kind: "table",
    id: "unrecorded-cause",
    title: "What something unrecorded would have to be to explain the ratios away",
    columns: [
      { id: "years", label: "Groups and years" },
      { id: "ratio", label: `Hazard ratio (${levelWords(facts.level)} interval)`, align: "end" },
      { id: "estimate", label: "To explain the estimate", align: "end" },
      { id: "limit", label: "To let the interval reach 1", align: "end" },
    ],
    rows: causes.flatMap((cause): TableRow[] => [
      ...(cause.period === undefined
        ? [{ label: `${facts.groups[0]} over ${facts.groups[cause.other]}`, heading: true, cells: [] }]
        : []),
      causeRow(cause, found, facts),
    ]),
    notes: [
      "The ratio by which it would have to go with the groups, and with the outcome, both at once and beyond all that is adjusted for (VanderWeele and Ding 2017). 1: nothing is needed, the interval holds 1.",
      "Whether such a thing exists is not known from here. Surgeons choose technique, so their skill, patients and years are the first to think of.",
    ],
    settings: {
      hazardRatiosTakenAs: "ratios of risks, in a rare outcome; converted where over 15 % of a group have it",
    },
  };
}

function causeRow(
  { other, period, found: answer }: UnrecordedCause,
  found: Adjusted,
  facts: StudyFacts,
): TableRow {
  const counts = modelCounts(found.rows, facts);
  const restsOn =
    period === undefined ? counts.events([0, other]) : counts.inPeriod([0, other], period.place);
  const label = period === undefined ? "all years" : periodYears(period.after, period.upTo, facts);
  if (!answer.computed) return { label, indent: 1, cells: [noCell(answer), textCell(""), textCell("")] };
  const { ratio, needed } = answer;
  const one = (value: number) => ({ kind: "number" as const, value, decimals: 2, restsOn });
  return {
    label,
    indent: 1,
    cells: [
      limitsCell([ratio.ratio, ratio.lower, ratio.upper], 2, restsOn),
      one(needed.estimate),
      one(needed.limit),
    ],
  };
}
