import type { Cell, Count, Relation, TableExhibit } from "../../../disclosure/exhibit.ts";
import { keyPart } from "../../../disclosure/key-part.ts";
import { noCell, wordsCell } from "../../sections/cells.ts";
import { levelWords } from "../../words.ts";
import { CHANGES, type ChangeOfStep } from "../change-of-step.ts";
import type { AdherenceRun } from "../run-adherence.ts";
import { intervalCell } from "./share-cells.ts";
import {
  BY_YEAR,
  EVERYBODY,
  nowhere,
  type StepCounts,
  stepCounts,
  stepRelations,
  sumRelations,
} from "./step-counts.ts";

type Run = Omit<AdherenceRun, "exhibits">;

interface ChangedStep {
  readonly label: string;
  readonly change: ChangeOfStep;
  readonly before: StepCounts;
  readonly after: StepCounts;
}

/** Before and after a day: the shares as bars, and what changed with what was written down. */
export function changeExhibits(run: Run): TableExhibit[] {
  const changed = run.steps.flatMap(({ label, change }): ChangedStep[] =>
    change === undefined
      ? []
      : [
          {
            label,
            change,
            before: stepCounts("before", label, change.before),
            after: stepCounts("after", label, change.after),
          },
        ],
  );
  if (changed.length === 0 || run.plan.change === undefined) return [];
  const relations = changed.flatMap(({ before, after }, at) => [
    ...stepRelations(before),
    ...stepRelations(after),
    ...sideRelations(run, at, { before, after }),
  ]);
  return [sharesExhibit(run, run.plan.change.on, changed, relations), apartExhibit(run, changed, relations)];
}

/** Before and after add up to everybody with a date, and so do the years on either side: what one hides another must not tell. */
function sideRelations(
  { steps, overYears }: Run,
  at: number,
  sides: { readonly before: StepCounts; readonly after: StepCounts },
): readonly Relation[] {
  const step = steps[at];
  if (step === undefined) return [];
  const undated = overYears?.elsewhere?.[at];
  const parts = { before: [] as StepCounts[], after: [] as StepCounts[] };
  const split: Relation[] = [];
  for (const { label, steps: all, sides: level } of overYears?.levels ?? []) {
    const [whole, before, after] = [all[at], level?.before[at], level?.after[at]];
    if (whole === undefined || before === undefined || after === undefined) continue;
    const place = `${BY_YEAR}/${keyPart(label)}`;
    const counts = stepCounts(place, step.label, whole);
    if (after.all.units === 0) parts.before.push(counts);
    else if (before.all.units === 0) parts.after.push(counts);
    else {
      const cut = {
        before: stepCounts(`${place}/before`, step.label, before),
        after: stepCounts(`${place}/after`, step.label, after),
      };
      parts.before.push(cut.before);
      parts.after.push(cut.after);
      split.push(...sumRelations(counts, [cut.before, cut.after]));
    }
  }
  return [
    ...sumRelations(stepCounts(EVERYBODY, step.label, step.shares), [
      sides.before,
      sides.after,
      ...(undated === undefined ? [] : [stepCounts(nowhere(BY_YEAR), step.label, undated)]),
    ]),
    ...split,
    ...sumRelations(sides.before, parts.before),
    ...sumRelations(sides.after, parts.after),
  ];
}

function sharesExhibit(
  { level }: Run,
  on: string,
  changed: readonly ChangedStep[],
  relations: readonly Relation[],
): TableExhibit {
  const interval = `${levelWords(level)} interval`;
  return {
    kind: "table",
    id: "before-and-after",
    title: `Done where written down, before and after ${on}`,
    columns: [
      { id: "step", label: "Step" },
      { id: "group-0", label: `before (${interval})`, align: "end" },
      { id: "group-1", label: `after (${interval})`, align: "end" },
    ],
    rows: changed.map(({ label, change, before, after }) => ({
      label,
      cells: [
        intervalCell(change.before.share, [before.done, before.notDone]),
        intervalCell(change.after.share, [after.done, after.notDone]),
      ],
    })),
    notes: ["Operations on that day count as after it."],
    relations,
    picture: "bars",
  };
}

function apartExhibit(
  { level, fewestRecorded, descriptor: { study } }: Run,
  changed: readonly ChangedStep[],
  relations: readonly Relation[],
): TableExhibit {
  return {
    kind: "table",
    id: "change",
    title: "What changed, and what changed in the writing",
    columns: [
      { id: "step", label: "Step" },
      {
        id: "difference",
        label: `Points more after (${levelWords(level)} interval)`,
        align: "end",
      },
      { id: "bounds", label: "Whatever was not written down", align: "end" },
      { id: "unrecorded", label: "Not recorded, before and after", align: "end" },
      { id: "reading", label: "What the records say" },
    ],
    rows: changed.map(({ label, change, before, after }) => {
      const written = [before.done, before.notDone, after.done, after.notDone];
      const all = [...written, before.notRecorded, after.notRecorded];
      return {
        label,
        cells: [
          differenceCell(change, written),
          boundsCell(change, all),
          unrecordedCell(change, [before, after]),
          wordsCell(CHANGES[change.reading], all),
        ],
      };
    }),
    notes: [
      `Points: per cent done after minus per cent before. Newcombe's interval of the two Wilson ones; it takes every ${study.unit.one} as independent.`,
      "Done more often and less often are said when the whole interval lies on that side, and would do so with the worst of the unrecorded filled in.",
      "Whatever was not written down: if all of the unrecorded before and none after were done, and the other way round. A step that is written down more often can look as if it were done more often, or less.",
      `Fewer than ${fewestRecorded} written down on either side: nothing is said. What else changed over the same time is not known from here.`,
    ],
    relations,
  };
}

function differenceCell({ difference }: ChangeOfStep, restsOn: readonly Count[]): Cell {
  if (!difference.computed) return noCell(difference, restsOn);
  const { difference: apart, low, high } = difference;
  return numbers("{0} ({1} to {2})", [apart, low, high], restsOn);
}

function boundsCell({ bounds }: ChangeOfStep, restsOn: readonly Count[]): Cell {
  if (!bounds.computed) return noCell(bounds, restsOn);
  return numbers("{0} to {1}", [bounds.lowest, bounds.highest], restsOn);
}

function unrecordedCell({ unrecorded }: ChangeOfStep, sides: readonly StepCounts[]): Cell {
  const restsOn = sides.flatMap(({ recorded, notRecorded }) => [recorded, notRecorded]);
  if (!unrecorded.computed) return noCell(unrecorded, restsOn);
  return numbers("{0} %, {1} %", [unrecorded.before, unrecorded.after], restsOn);
}

function numbers(form: string, shares: readonly number[], restsOn: readonly Count[]): Cell {
  return { kind: "numbers", form, values: shares.map((share) => 100 * share), decimals: 1, restsOn };
}
