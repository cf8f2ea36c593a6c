import type { Cell, Count, Relation, TableExhibit } from "../../../disclosure/exhibit.ts";
import { countCell, noCell, sized, textCell } from "../../sections/cells.ts";
import type { QuestionFeasibility } from "../question.ts";
import type { WhereBoth } from "../variation.ts";
import { groupCounts, type StepSheet, stepKeys } from "./step-counts.ts";

/** How much of each step varies within surgeons and years, and how many surgeons hardly vary: never who they are. */
export function whereBothExhibit(id: string, { questions, rules, unit }: StepSheet): TableExhibit {
  const margin = Number((100 * rules.margin).toPrecision(6));
  const { many } = unit;
  return {
    kind: "table",
    id,
    title: "Where a step was both done and not done",
    columns: [
      { id: "step", label: "Step" },
      { id: "under", label: `Surgeons who do it under ${margin} %`, align: "end" },
      { id: "between", label: `from ${margin} to ${100 - margin} %`, align: "end" },
      { id: "over", label: `over ${100 - margin} %`, align: "end" },
      { id: "share", label: "Of its variance, between surgeons", align: "end" },
      { id: "surgeons", label: `${many} at surgeons with both`, align: "end" },
      { id: "years", label: "in periods with both", align: "end" },
      { id: "surgeons-years", label: "at surgeons with both in one period", align: "end" },
    ],
    rows: questions.map((question) => ({ label: question.title, cells: cellsOf(question) })),
    notes: [
      `Shares are of the ${many} recorded as done or not done. A surgeon, a period of ${rules.yearsInBlock} years, or a surgeon in a period has both where the share done lies from ${margin} to ${100 - margin} %.`,
      `Where over ${Number((100 * rules.fixedFrom).toPrecision(6))} % of the variance lies between surgeons the step counts as fixed within surgeon, and the variance is widened by 1 + (m − 1) · ${rules.intraclass}, m being the number of ${many} that the surgeon of a ${unit.one} has, on average.`,
    ],
    relations: questions.flatMap((question) => relationsOf(question)),
  };
}

function cellsOf(question: QuestionFeasibility): Cell[] {
  const { surgeons, years, surgeonsAndYears } = question.variation;
  const bands = bandsOf(question);
  const bandCells = bands === undefined ? Array(3).fill(textCell("no surgeons")) : bands.parts.map(countCell);
  const all = bands === undefined ? [] : [bands.total, ...bands.parts];
  return [
    ...bandCells,
    surgeons === undefined
      ? textCell("no surgeons")
      : surgeons.betweenShare.computed
        ? percentCell(surgeons.betweenShare.share, all)
        : noCell(surgeons.betweenShare),
    shareWithBoth(question, "surgeons", surgeons, bands?.parts ?? []),
    shareWithBoth(question, "years", years, []),
    shareWithBoth(question, "surgeons-years", surgeonsAndYears, bands?.parts ?? []),
  ];
}

function bandsOf({ title, variation: { surgeons } }: QuestionFeasibility): Relation | undefined {
  if (surgeons === undefined) return undefined;
  const key = stepKeys.surgeons(title);
  const { under, between, over } = surgeons.overlap;
  const part = (name: string, units: number): Count => ({ key: `${key}/${name}`, units });
  return {
    total: { key, units: under + between + over },
    parts: [part("under", under), part("between", between), part("over", over)],
  };
}

function withBoth(question: QuestionFeasibility, kind: string, where: WhereBoth): Relation {
  const key = stepKeys.compared(question.title);
  const { size } = question.variation.compared;
  return {
    total: sized(key, size),
    parts: [sized(`${key}/${kind}/both`, where.units), sized(`${key}/${kind}/one`, where.others)],
  };
}

/** Rests on the surgeons behind it as well: a share of a few surgeons is theirs. */
function shareWithBoth(
  question: QuestionFeasibility,
  kind: string,
  where: WhereBoth | undefined,
  surgeons: readonly Count[],
): Cell {
  if (where === undefined) return textCell(kind === "years" ? "no dates" : "none");
  const { total, parts } = withBoth(question, kind, where);
  if (total.units === 0) return textCell("none");
  return percentCell(where.units.units / total.units, [...groupCounts(question), ...parts, ...surgeons]);
}

function percentCell(share: number, restsOn: readonly Count[]): Cell {
  return { kind: "number", value: 100 * share, decimals: 0, suffix: " %", restsOn };
}

function relationsOf(question: QuestionFeasibility): Relation[] {
  const { surgeons, years, surgeonsAndYears } = question.variation;
  const bands = bandsOf(question);
  return [
    ...(bands === undefined ? [] : [bands]),
    ...(surgeons === undefined ? [] : [withBoth(question, "surgeons", surgeons)]),
    ...(years === undefined ? [] : [withBoth(question, "years", years)]),
    ...(surgeonsAndYears === undefined ? [] : [withBoth(question, "surgeons-years", surgeonsAndYears)]),
  ];
}
