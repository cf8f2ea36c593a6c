import type { Answer } from "../../base/answer.ts";
import type { ExhibitLine, LineExhibit, TableExhibit } from "../../disclosure/exhibit.ts";
import type { LossBounds } from "../../survival/loss-bounds.ts";
import type { YearValue } from "../../survival/results.ts";
import type { StudyFacts } from "../facts.ts";
import { article, levelWords, lossWords, yearWords } from "../words.ts";
import { limitsCell, noCell, textCell } from "./cells.ts";
import { stepLine } from "./step-line.ts";

/** A risk curve going up from 0, whichever risk was asked for. */
interface RiskCurve {
  readonly time: readonly number[];
  readonly value: readonly number[];
  readonly lower: readonly (number | null)[];
  readonly upper: readonly (number | null)[];
  readonly drawnTo: Answer<{ readonly tick: number }>;
  readonly atYears: readonly Answer<YearValue>[];
}

const CASES = ["estimate", "worst", "best"] as const;

/** Worst and best case beside the estimate, in one figure. */
export function lossLinesExhibit(answer: Answer<LossBounds>, facts: StudyFacts): readonly LineExhibit[] {
  if (!answer.computed) return [];
  return [
    {
      kind: "lines",
      id: "loss-bounds",
      title: `What those lost to follow-up could change: ${answer.risk} risk of ${facts.cause}`,
      question: `If each of the lost had ${article(facts.words.event.one)} on the day of loss, or none to the end, where would the curves lie?`,
      across: "Years of follow-up",
      up: `Per 1000 ${facts.words.unit.many}`,
      scale: "amount",
      drawing: "steps",
      lines: facts.groups.flatMap((label, style) => groupLines(answer, label, style, facts)),
      notes: [
        `Bold: as seen, with its ${levelWords(facts.level)} interval. Thin: above, all of the lost have the event on the day of loss; below, none of them ever. Lost: ${answer.groups.map(({ group, lost, rows }) => `${group}, ${lost} of ${rows}`).join("; ")} (last seen more than ${lossWords(facts)} before the data cut).`,
      ],
      settings: { risk: answer.risk, cause: answer.cause },
    },
  ];
}

function groupLines(bounds: LossBounds, label: string, style: number, facts: StudyFacts): ExhibitLine[] {
  return CASES.map((which) => {
    const { lower, upper, ...curve } = riskCurves(bounds, which)[style] ?? NOBODY;
    const value = curve.value.map((share) => 1000 * share);
    if (which !== "estimate") {
      const line = stepLine({ ...curve, value, label: `${label}, ${which} case`, style }, facts.timeUnit);
      return { ...line, thin: true };
    }
    const limits = { lower: perThousand(lower), upper: perThousand(upper) };
    return stepLine({ ...curve, ...limits, value, label, style }, facts.timeUnit);
  });
}

function perThousand(limits: readonly (number | null)[]): (number | null)[] {
  return limits.map((limit) => (limit === null ? null : 1000 * limit));
}

/** The three cases at the plan's years. */
export function lossTableExhibit(answer: Answer<LossBounds>, facts: StudyFacts): readonly TableExhibit[] {
  const { years } = facts.plan;
  const columns = [
    { id: "item", label: "Group and year" },
    { id: "estimate", label: "As seen", align: "end" as const },
    { id: "worst", label: "All lost had the event", align: "end" as const },
    { id: "best", label: "None of the lost had it", align: "end" as const },
  ];
  const base = {
    kind: "table" as const,
    id: "loss-at-years",
    title: "Risk per 1000 under three beliefs about those lost",
    columns,
  };
  if (!answer.computed) {
    const rows = [{ label: "all groups", cells: [noCell(answer), textCell(""), textCell("")] }];
    return [{ ...base, rows }];
  }
  return [
    {
      ...base,
      rows: facts.groups.flatMap((label, group) =>
        years.map((year, at) => ({
          label: `${label}, ${yearWords(year)}`,
          cells: CASES.map((which) => yearCell(riskCurves(answer, which)[group]?.atYears[at])),
        })),
      ),
      notes: [
        `${answer.risk === "crude" ? "Crude" : "Net"} risk with the ${levelWords(facts.level)} interval; every ${facts.words.unit.one} taken as independent. Truth lies between the outer columns only if the possible ends of follow-up are right.`,
      ],
      settings: { risk: answer.risk, cause: answer.cause },
    },
  ];
}

function yearCell(value: Answer<YearValue> | undefined) {
  if (value === undefined) return textCell("");
  if (!value.computed) return noCell(value);
  const { value: risk, lower, upper } = value;
  if (lower === null || upper === null) return textCell("nobody left under observation");
  return limitsCell([1000 * risk, 1000 * lower, 1000 * upper], 1, []);
}

const NOBODY: RiskCurve = {
  time: [],
  value: [],
  lower: [],
  upper: [],
  drawnTo: { computed: false, code: "no-cases", because: "the group holds no case" },
  atYears: [],
};

function riskCurves(bounds: LossBounds, which: (typeof CASES)[number]): readonly RiskCurve[] {
  if (bounds.risk === "crude") {
    return bounds[which].curves.map(({ incidence, ...curve }) => ({ ...curve, value: incidence }));
  }
  const flip = (limits: readonly (number | null)[]) => limits.map((one) => (one === null ? null : 1 - one));
  return bounds[which].groups.map(({ survival, lower, upper, atYears, ...curve }) => ({
    ...curve,
    value: survival.map((one) => 1 - one),
    lower: flip(upper),
    upper: flip(lower),
    atYears: atYears.map((answer) =>
      answer.computed
        ? {
            ...answer,
            value: 1 - answer.value,
            lower: answer.upper === null ? null : 1 - answer.upper,
            upper: answer.lower === null ? null : 1 - answer.lower,
          }
        : answer,
    ),
  }));
}
