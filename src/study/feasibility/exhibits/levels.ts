import { contentHash } from "../../../base/content-hash.ts";
import { randomStreams } from "../../../base/random-streams.ts";
import { RECORDED_STATE_WORDS, RECORDED_STATES } from "../../../cases/recorded-state.ts";
import type {
  AnalystExhibits,
  Cell,
  Count,
  Relation,
  TableExhibit,
  TableRow,
} from "../../../disclosure/exhibit.ts";
import type { UnitCount } from "../../../technique/row-codes.ts";
import type { LevelStates } from "../../../technique/states-by-level.ts";
import { sized, textCell } from "../../sections/cells.ts";
import type { StatesAtLevels } from "../exposure-tables.ts";
import type { StepSheet } from "./step-counts.ts";
import { stateCounts, stepKeys } from "./step-counts.ts";

/** The four states of every step by year, centre or stratum. */
export function levelsExhibit(sheet: StepSheet, id: string, found: StatesAtLevels): TableExhibit {
  const labels = levelLabels(found);
  return {
    kind: "table",
    id,
    title: `Recorded states: ${found.title}`,
    columns: [
      { id: "step", label: "Step and state" },
      ...labels.map((label, at) => ({ id: `level-${at}`, label, align: "end" as const })),
    ],
    rows: found.steps.flatMap(({ label: step, levels }): TableRow[] => [
      { label: step, heading: true, cells: [] },
      ...RECORDED_STATES.map((state, place) => ({
        label: RECORDED_STATE_WORDS[state],
        indent: 1,
        cells: labels.map((label) => percentCell(id, step, levels, label, place, found.surgeons)),
      })),
    ]),
    notes: [
      "Shares of everybody followed at that level.",
      ...(found.surgeons.size > 0 ? ["A level with too few surgeons is not shown."] : []),
    ],
    relations: found.steps.flatMap(({ label: step, levels, elsewhere }, at) => [
      ...levels.map((level) => ({
        total: sized(stepKeys.level(id, level.label), level.all),
        parts: level.states.map((size, state) =>
          sized(stepKeys.levelState(id, level.label, step, state), size),
        ),
      })),
      ...sumsOverLevels(sheet, id, levels, elsewhere, at),
    ]),
  };
}

/** What the levels add up to stands in other tables. */
function sumsOverLevels(
  { questions, followed }: StepSheet,
  id: string,
  levels: readonly LevelStates[],
  elsewhere: LevelStates | undefined,
  at: number,
): Relation[] {
  const question = questions[at];
  if (question === undefined) return [];
  return [
    sumOver(
      sized(stepKeys.followed, followed),
      levels.map((level) => sized(stepKeys.level(id, level.label), level.all)),
      elsewhere?.all,
    ),
    ...stateCounts(question).map((count, state) =>
      sumOver(
        count,
        levels.map((level) =>
          sized(stepKeys.levelState(id, level.label, question.title, state), level.states[state] ?? NOBODY),
        ),
        elsewhere?.states[state],
      ),
    ),
  ];
}

const NOBODY = { units: 0, persons: 0 };

/** Those at no level are a part as well. */
function sumOver(total: Count, parts: readonly Count[], elsewhere: UnitCount = NOBODY): Relation {
  return elsewhere.units === 0
    ? { total, parts }
    : { total, parts: [...parts, sized(`${total.key}/at no level of ${parts[0]?.key ?? ""}`, elsewhere)] };
}

function levelLabels({ steps }: StatesAtLevels): string[] {
  return (steps[0]?.levels ?? []).map(({ label }) => label);
}

function percentCell(
  id: string,
  step: string,
  levels: readonly LevelStates[],
  label: string,
  state: number,
  surgeons: ReadonlyMap<string, number>,
): Cell {
  const level = levels.find((one) => one.label === label);
  const size = level?.states[state];
  if (level === undefined || size === undefined || level.all.units === 0) return textCell("none");
  const restsOn: Count[] = [
    sized(stepKeys.levelState(id, label, step, state), size),
    sized(stepKeys.level(id, label), level.all),
  ];
  // A level of few surgeons shows what each of them does, be it a centre, a year or a stratum.
  const operating = surgeons.get(label);
  if (operating !== undefined) {
    // Where nobody is named it may all be one surgeon's work.
    restsOn.push({ key: `${stepKeys.level(id, label)}/surgeons`, units: Math.max(1, operating) });
  }
  return { kind: "number", value: (100 * size.units) / level.all.units, decimals: 0, suffix: " %", restsOn };
}

/** What each surgeon records of each step, for the analyst alone; numbers are drawn anew for every report. */
export function surgeonsExhibit(
  id: string,
  hashes: { readonly export: string; readonly plan: string },
  found: StatesAtLevels,
): AnalystExhibits {
  return {
    kind: "for analysts",
    id,
    title: "Recorded states by surgeon",
    exhibits: () => [surgeonsTable(id, hashes, found)],
  };
}

function surgeonsTable(
  id: string,
  hashes: { readonly export: string; readonly plan: string },
  found: StatesAtLevels,
): TableExhibit {
  const labels = levelLabels(found);
  const numbers = drawnNumbers(labels.length, `${hashes.export}${hashes.plan}`);
  const rows = labels.map((label, at) => ({
    number: numbers[at] ?? 0,
    cells: found.steps.map(({ label: step, levels }): Cell => {
      const level = levels.find((one) => one.label === label);
      if (level === undefined) return textCell("none");
      return {
        kind: "numbers",
        form: "{0} / {1} / {2} / {3}",
        values: level.states.map(({ units }) => (100 * units) / level.all.units),
        decimals: 0,
        restsOn: level.states.map((size, state) => sized(stepKeys.levelState(id, label, step, state), size)),
      };
    }),
  }));
  return {
    kind: "table",
    id,
    title: "Recorded states by surgeon: done / not done / not applicable / not recorded, %",
    columns: [
      { id: "surgeon", label: "Surgeon" },
      ...found.steps.map(({ label }, at) => ({ id: `step-${at}`, label, align: "end" as const })),
    ],
    rows: rows
      .sort((a, b) => a.number - b.number)
      .map(({ number, cells }) => ({ label: `surgeon ${number}`, cells })),
    notes: ["Numbers of surgeons are drawn anew for every report. Not for readers other than the analyst."],
  };
}

/** 1 to `count` in an order that depends on the text alone. */
function drawnNumbers(count: number, text: string): number[] {
  const stream = randomStreams(Number.parseInt(contentHash(text).slice(0, 8), 16)).stream("surgeon numbers");
  const numbers = Array.from({ length: count }, (_, at) => at + 1);
  for (let at = count - 1; at > 0; at -= 1) {
    const other = stream.below(at + 1);
    const kept = numbers[at] ?? 0;
    numbers[at] = numbers[other] ?? 0;
    numbers[other] = kept;
  }
  return numbers;
}
