import { capital } from "../../base/words.ts";
import { caseFields } from "../../cases/descriptor-rules.ts";
import type { Cell, Exhibit, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { Block } from "../../report/block.ts";
import type { StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { levelsExhibit, surgeonsExhibit } from "../feasibility/exhibits/levels.ts";
import { comparedRelation, partCounts } from "../feasibility/exhibits/step-counts.ts";
import { whereBothExhibit } from "../feasibility/exhibits/where-both.ts";
import { ruleSentences } from "../feasibility/rule-sentences.ts";
import { feasibilityRules } from "../feasibility/rules.ts";
import type { StudyFeasibility } from "../feasibility/study-feasibility.ts";
import { exhibitBlock } from "../making/exhibit-block.ts";
import type { Section } from "../making/section.ts";
import type { ClearedView } from "../making/view.ts";
import { levelWords, yearWords } from "../words.ts";
import { countCell, eventsTogether, keys, noCell, sized, textCell } from "./cells.ts";
import { periodRatiosExhibit } from "./feasibility-periods.ts";

/** What an export of this size could have shown, whatever it did show. */
export const feasibility: Section = {
  id: "feasibility",
  title: () => "What this export could have found",
  exhibits: (estimates, facts) => [
    feasibilityExhibit(estimates, facts),
    ...(estimates.feasibility.computed ? shownWithAnswer(estimates, estimates.feasibility, facts) : []),
  ],
  blocks: (view, facts, figures) => [
    ...["feasibility", "feasibility-periods", "step-where-both", "step-over-time", "step-by-centre"].flatMap(
      (id) => exhibitBlock(view.table(id), figures),
    ),
    ...view.all.exhibits
      .filter(({ id }) => id.startsWith("step-by-stratum-"))
      .flatMap((exhibit) => exhibitBlock(exhibit, figures)),
    ...exhibitBlock(view.table("step-by-surgeon"), figures),
    { kind: "prose", text: restsOnTotals(view, facts) },
    ...rules(facts),
  ],
};

function shownWithAnswer(
  estimates: StudyEstimates,
  { question, rules, followed, exposure }: StudyFeasibility,
  facts: StudyFacts,
): Exhibit[] {
  const sheet = { questions: [question], followed, rules, unit: facts.words.unit };
  const periods = question.periods.length === 0 ? [] : [periodRatiosExhibit(estimates, question, facts)];
  if (exposure === undefined) return periods;
  const { overTime, byCentre, byStratum, bySurgeon } = exposure;
  return [
    ...periods,
    whereBothExhibit("step-where-both", sheet),
    ...(overTime === undefined ? [] : [levelsExhibit(sheet, "step-over-time", overTime)]),
    ...(byCentre === undefined ? [] : [levelsExhibit(sheet, "step-by-centre", byCentre)]),
    ...byStratum.map((stratum, at) => levelsExhibit(sheet, `step-by-stratum-${at + 1}`, stratum)),
    ...(bySurgeon === undefined ? [] : [surgeonsExhibit("step-by-surgeon", facts.hashes, bySurgeon)]),
  ];
}

function feasibilityExhibit(estimates: StudyEstimates, facts: StudyFacts): TableExhibit {
  const { feasibility } = estimates;
  const together = eventsTogether(estimates.compared, facts.cause);
  const { comparisons } = facts;
  const within = feasibility.computed ? feasibility.question.within : undefined;
  return {
    kind: "table",
    id: "feasibility",
    // The verdict is that of the numbers of now.
    fresh: true,
    title: "Smallest ratio that had a fair chance of being seen",
    columns: [
      { id: "item", label: "Item" },
      { id: "value", label: "Value", align: "end" },
    ],
    rows: [
      {
        label: `${capital(facts.words.event.many)} for ${facts.cause}, groups together`,
        cells: [countCell(together.total)],
      },
      ...(feasibility.computed
        ? answerRows(feasibility, estimates, facts)
        : [
            { label: "Share of the smaller group", cells: [noCell(feasibility)] },
            { label: "Smallest hazard ratio seen with the stated chance", cells: [noCell(feasibility)] },
          ]),
    ],
    notes: [
      `Schoenfeld's formula, two-sided, level ${Number(((1 - facts.level) / comparisons).toPrecision(2))} (${comparisons} planned comparison${comparisons === 1 ? "" : "s"} in all). Where the larger group has the higher rate and the ratio is 2 or more, the formula promises too much, as simulation shows.`,
      ...(feasibility.computed
        ? [
            `Years: from the first operation, at this export's volume and constant rates, until the ratio that matters has ${levelWords(feasibility.rules.power)} chance of being seen.`,
          ]
        : []),
    ],
    relations: [
      together,
      ...(feasibility.computed ? [comparedRelation(feasibility.question)] : []),
      ...(feasibility.computed && within !== undefined
        ? partCounts(feasibility.question, together.total.key, within).relations
        : []),
    ],
  };
}

function answerRows(
  { question, rules }: StudyFeasibility,
  estimates: StudyEstimates,
  facts: StudyFacts,
): TableRow[] {
  const { total } = eventsTogether(estimates.compared, facts.cause);
  const groups = estimates.compared.map((group) => sized(keys.group(group.label), group));
  const { compared, within, designFactor, matters, needed, years, verdict } = question;
  const part = within === undefined ? [] : partCounts(question, total.key, within).restsOn;
  const number = (value: number, decimals: number, suffix = ""): Cell => ({
    kind: "number",
    value,
    decimals,
    suffix,
    restsOn: [total, ...groups],
  });
  const ofPart = (value: number, decimals: number): Cell => ({
    kind: "number",
    value,
    decimals,
    restsOn: [total, ...groups, ...part],
  });
  // What is needed is needed of those the verdict speaks of.
  const among = within === undefined ? "" : ` within ${verdict.within.join("; ")}`;
  const { smallest, exposedShare } = compared;
  const { per1000 } = facts.plan.smallestDifferenceThatMatters;
  const ratioGiven = facts.plan.feasibility?.ratioThatMatters;
  return [
    {
      label: "Share of the smaller group",
      cells: [number(100 * Math.min(exposedShare, 1 - exposedShare), 0, " %")],
    },
    {
      label: `Smallest hazard ratio seen with ${levelWords(rules.power)} chance`,
      cells: [smallest.computed ? number(smallest.ratio, 1) : noCell(smallest)],
    },
    {
      label: "The same with the lower rate in the first group",
      cells: [smallest.computed ? number(smallest.reciprocal, 2) : noCell(smallest)],
    },
    ...(question.variation.surgeons === undefined
      ? []
      : [
          {
            label: FACTOR_ROW,
            cells: [
              designFactor === undefined
                ? textCell("none: not fixed within surgeon")
                : designFactor.computed
                  ? { kind: "number" as const, value: designFactor.factor, decimals: 1, restsOn: groups }
                  : noCell(designFactor),
            ],
          },
        ]),
    {
      label:
        ratioGiven === undefined
          ? `Ratio that matters: ${per1000} per 1000 at ${yearWords(facts.plan.years.at(-1) ?? 0)}`
          : "Ratio that matters, as the plan gives it",
      cells: [matters.computed ? ofPart(matters.ratio, 1) : noCell(matters)],
    },
    ...(within === undefined
      ? []
      : [
          {
            label: `Smallest ratio within ${verdict.within.join("; ")}`,
            cells: [within.smallest.computed ? ofPart(within.smallest.ratio, 1) : noCell(within.smallest)],
          },
        ]),
    {
      label: `${capital(facts.words.event.many)} needed for the ratio that matters${among}`,
      cells: [needed.computed ? ofPart(needed.events, 0) : noCell(needed)],
    },
    {
      label: `${capital(facts.words.unit.many)} needed for it${among}`,
      cells: [years.computed ? ofPart(years.units, 0) : noCell(years)],
    },
    {
      label: "Years needed for it at this export's own volume",
      cells: [years.computed ? ofPart(years.years, 0) : noCell(years)],
    },
    { label: VERDICT_ROW, cells: [textCell(verdict.words)] },
  ];
}

/** Row labels under which the brief finds cells again after disclosure control. */
export const VERDICT_ROW = "Verdict";
export const FACTOR_ROW = "Factor by which likeness within surgeon widens the variance, counted in";

function restsOnTotals(view: ClearedView, facts: StudyFacts): string {
  const first = view.table("rate-ratios")?.rows[0];
  const interval = first?.cells[0];
  const shown =
    first === undefined || interval === undefined || interval.values.length < 3
      ? ""
      : ` What the result itself leaves open, ${first.label}: ${interval.text}, from rates over all years.`;
  return `The ratio follows from the number of ${facts.words.event.many} and the sizes of the groups alone, never from what was seen in each group. It takes one ratio for all years; where the ratio changes, only a larger difference could have been seen.${shown}`;
}

function rules(facts: StudyFacts): Block[] {
  if (facts.groups.length > 2) return [];
  return [
    { kind: "prose", text: "The rules of the verdict, tried in this order:" },
    {
      kind: "list",
      items: ruleSentences(feasibilityRules(facts.plan.feasibility), facts.words.unit.many, {
        hasSurgeons: caseFields(facts.descriptor).some(({ role }) => role === "surgeon"),
      }),
    },
  ];
}
