import type { ClearedCell, ClearedExhibit } from "../../disclosure/cleared.ts";
import { cellsOf } from "../../disclosure/cleared-cells.ts";
import { AS_BEFORE_MARK, AS_BEFORE_NOTE } from "../../disclosure/held/mark.ts";
import type { Block, Prose, Run } from "../../report/block.ts";
import type { StudyFacts } from "../facts.ts";
import { feasibilityRules } from "../feasibility/rules.ts";
import { VERDICTS } from "../feasibility/verdict.ts";
import { whenStated } from "../locking/when-stated.ts";
import { exhibitBlock, picturedBlock } from "../making/exhibit-block.ts";
import type { Figures } from "../making/section.ts";
import type { ClearedView } from "../making/view.ts";
import { levelWords, riskRowLabel, whoTheyWere, yearWords } from "../words.ts";
import { BRIEF_TITLES, CAUTIONS_ID } from "./brief-titles.ts";
import { cautions } from "./cautions.ts";
import { certainty } from "./certainty.ts";
import { DECISION_LINES } from "./decision-lines.ts";
import { differenceSentence, whyMissing } from "./difference-sentence.ts";
import { FACTOR_ROW, VERDICT_ROW } from "./feasibility.ts";
import { fewClustersCaution } from "./few-clusters.ts";
import { glossary } from "./glossary.ts";
import { CHANGE_ROW } from "./hazard-ratios.ts";
import { directionSentence, RATE_TABLE_NOTES } from "./rates.ts";

/** Two pages for a committee: question, answer, certainty, what could be found, the groups, cautions, decision. */
export function briefBlocks(view: ClearedView, facts: StudyFacts, figures: Figures): Block[] {
  return [
    {
      kind: "section",
      id: "question",
      title: BRIEF_TITLES.question,
      blocks: [{ kind: "prose", text: facts.plan.question }],
    },
    {
      kind: "section",
      id: "answer",
      title: BRIEF_TITLES.answer,
      blocks: [
        { kind: "answer", text: verdict(view, facts) },
        { kind: "list", items: facts.plan.years.map((year) => yearLine(view, facts, year)) },
        { kind: "prose", text: howToRead(facts) },
        ...asBeforeBlocks(view, facts),
      ],
    },
    {
      kind: "section",
      id: "could-find",
      title: BRIEF_TITLES.couldFind,
      blocks: [{ kind: "prose", text: couldFind(view, facts) }],
    },
    {
      kind: "section",
      id: "groups-over-years",
      title: BRIEF_TITLES.groups,
      blocks: [
        ...adjustedBlocks(view, facts),
        ...fewClustersCaution(facts),
        ...exhibitBlock(view.curves(briefCurves(facts)), figures),
        ...picturedBlock(view.table("rates"), figures, RATE_TABLE_NOTES),
        { kind: "prose", text: directionSentence(view, facts) },
      ],
    },
    {
      kind: "section",
      id: CAUTIONS_ID,
      title: BRIEF_TITLES.cautions,
      blocks: [cautions(facts, view.all.threshold)],
    },
    { kind: "section", id: "decision", title: BRIEF_TITLES.decision, blocks: [decision(view)] },
    { kind: "section", id: "words-used", title: BRIEF_TITLES.words, blocks: [glossary(facts)] },
  ];
}

/** "Per 1000" wording belongs to crude risk; without captured deaths only net risk is left, and says so. */
function briefRisk(facts: StudyFacts): "crude" | "net" {
  return facts.crude.computed ? "crude" : "net";
}

function couldFind(view: ClearedView, facts: StudyFacts): Prose {
  const [events, , ratio] = view.table("feasibility")?.rows.map((row) => row.cells[0]) ?? [];
  if (ratio === undefined || events === undefined || ratio.values.length === 0) {
    return `What could have been seen cannot be told (${whyMissing(ratio)}).`;
  }
  return [
    `The export holds ${events.text} ${facts.words.event.many} for ${facts.cause} in the groups compared. `,
    {
      strong: `Only a ratio of ${ratio.text} or more had a fair chance of being seen: it would be seen in ${chanceWords(feasibilityRules(facts.plan.feasibility).power)} such exports.`,
    },
    ` A smaller one would most likely be missed.${likeEachOther(view, facts)}${verdictSentence(view)}`,
  ];
}

/** "80 of 100". */
function chanceWords(share: number): string {
  return `${Number((100 * share).toPrecision(4))} of 100`;
}

/** By rules that were written down before; the section on feasibility prints them. */
function verdictSentence(view: ClearedView): string {
  const verdict = view.cell("feasibility", VERDICT_ROW, "value");
  return verdict === undefined ? "" : ` By the stated rules: ${verdict.text}.`;
}

/** What clusters do to the formula, where it does not know them. */
function likeEachOther(view: ClearedView, facts: StudyFacts): string {
  const { by } = facts.clusters;
  const isCountedIn = (view.cell("feasibility", FACTOR_ROW, "value")?.values.length ?? 0) > 0;
  if (by === "none" || isCountedIn) return "";
  return ` Where ${facts.words.unit.many} of one ${by} are alike, the ratio must be larger still.`;
}

function briefCurves(facts: StudyFacts): string {
  return briefRisk(facts) === "crude" ? "crude-risk" : "net-risk";
}

/** One year of the answer: the differences, then what they are differences of. */
function yearLine(view: ClearedView, facts: StudyFacts, year: number): Prose {
  const differences = pairsOf(facts).flatMap(({ groups, cell }): readonly Run[] => {
    const sentence = differenceSentence(cell(view, year), facts, groups, year);
    return [...(typeof sentence === "string" ? [sentence] : sentence), " "];
  });
  return [...differences, groupRisks(view, facts, year)];
}

interface Pair {
  readonly groups: readonly [string, string];
  cell(view: ClearedView, year: number): ClearedCell | undefined;
}

/** The first group against each of the others. */
function pairsOf(facts: StudyFacts): Pair[] {
  const [first = "", ...others] = facts.groups;
  return others.map((second, at) => ({
    groups: [first, second],
    cell: (view, year) =>
      view.cell("risk-at-years", riskRowLabel(briefRisk(facts), year), `difference-0-${at + 1}`),
  }));
}

/** "Per 1000 knees: a 10.2 (7.3 to 14.2); b between 6 and 14." */
function groupRisks(view: ClearedView, facts: StudyFacts, year: number): string {
  const net = briefRisk(facts) === "net" ? ", if nobody died or had another reason first" : "";
  const cells = groupCells(view, facts, year);
  const parts = facts.groups.map((group, at) => {
    const cell = cells[at];
    return `${group} ${cell === undefined || cell.values.length === 0 ? `not given (${whyMissing(cell)})` : cell.text}`;
  });
  return `Per 1000 ${facts.words.unit.many}${net}: ${parts.join("; ")}.`;
}

function groupCells(view: ClearedView, facts: StudyFacts, year: number): (ClearedCell | undefined)[] {
  const row = riskRowLabel(briefRisk(facts), year);
  return facts.groups.map((_group, at) => view.cell("risk-at-years", row, `group-${at}`));
}

/** What the interval at the last year says about chance. */
function verdict(view: ClearedView, facts: StudyFacts): Prose {
  const year = facts.plan.years.at(-1) ?? 0;
  const { per1000 } = facts.plan.smallestDifferenceThatMatters;
  const pairs = pairsOf(facts);
  const sentences = pairs.map(({ groups, cell }) => {
    const difference = cell(view, year);
    const [, low, high] = difference?.values ?? [];
    const says = `${certainty(low, high, per1000)}${difference?.asBefore ? ` ${AS_BEFORE_MARK}` : ""}`;
    return pairs.length === 1 ? says : `“${groups[0]}” and “${groups[1]}”: ${says}`;
  });
  return [{ strong: `At ${yearWords(year)}: ${sentences.join(" ")}` }];
}

function howToRead(facts: StudyFacts): string {
  const year = facts.plan.years.at(-1) ?? 0;
  const { per1000, reason: why } = facts.plan.smallestDifferenceThatMatters;
  const own =
    facts.clusters.by === "none"
      ? ""
      : ` The intervals of a group alone take every ${facts.words.unit.one} as independent.`;
  return `The smallest difference that matters is ${per1000} per 1000 at ${yearWords(year)} (${why}), ${whenStated(facts.planLock)}. All this speaks of chance only. The groups were not assigned by chance, and these differences are not adjusted for who ${whoTheyWere(facts)} were.${own}`;
}

/** The adjusted ratio in a sentence, never without its periods; nothing where the plan adjusts for nothing. */
function adjustedBlocks(view: ClearedView, facts: StudyFacts): Block[] {
  if (facts.plan.adjusters === undefined) return [];
  const table = view.table("hazard-ratios");
  const at = (table?.columns.findIndex(({ id }) => id === "adjusted") ?? 0) - 1;
  const found = new Map<string, string[]>();
  let pair: string | undefined;
  for (const { heading, label, cells } of table?.rows ?? []) {
    if (heading) pair = label;
    if (heading || pair === undefined || label === CHANGE_ROW) continue;
    found.set(pair, [...(found.get(pair) ?? []), `${label} ${cells[at]?.text ?? "not computed"}`]);
  }
  return [...found].map(
    ([words, ratios]): Block => ({
      kind: "prose",
      text: `Hazard ratio, ${words}, adjusted for what was known beforehand (${levelWords(facts.level)} interval): ${ratios.join("; ")}.`,
    }),
  );
}

/** What † means, where a sentence has one and neither figure of the brief says it. */
function asBeforeBlocks(view: ClearedView, facts: StudyFacts): Block[] {
  const said = [
    ...facts.plan.years.flatMap((year) => [
      ...pairsOf(facts).map(({ cell }) => cell(view, year)),
      ...groupCells(view, facts, year),
    ]),
    ...(facts.plan.adjusters === undefined ? [] : cellsIn(view.table("hazard-ratios"))),
  ];
  const drawn = [view.curves(briefCurves(facts)), view.table("rates")].flatMap(cellsIn);
  const isMarked = (cells: readonly (ClearedCell | undefined)[]) => cells.some((cell) => cell?.asBefore);
  return isMarked(said) && !isMarked(drawn) ? [{ kind: "prose", text: AS_BEFORE_NOTE }] : [];
}

function cellsIn(exhibit: ClearedExhibit | undefined): readonly ClearedCell[] {
  return exhibit === undefined ? [] : cellsOf(exhibit);
}

/** Where nothing can be compared, only what would let it be compared is left to decide. */
function decision(view: ClearedView): Block {
  const collecting = ["Record better", "Collect longer"];
  const verdict = view.cell("feasibility", VERDICT_ROW, "value")?.text ?? "";
  return {
    kind: "choices",
    title: "Mark one",
    lines: DECISION_LINES,
    items: verdict.startsWith(VERDICTS.no)
      ? collecting
      : ["No change", ...collecting, "Review the data, then the case mix, then the practice"],
  };
}
