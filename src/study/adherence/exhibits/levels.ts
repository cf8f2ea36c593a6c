import type { Cell, Count, Relation, TableExhibit } from "../../../disclosure/exhibit.ts";
import { keyPart } from "../../../disclosure/key-part.ts";
import type { AdherenceRun, SharesAtLevels } from "../run-adherence.ts";
import { doneCell, recordedCell } from "./share-cells.ts";
import {
  EVERYBODY,
  nowhere,
  type StepCounts,
  stepCounts,
  stepRelations,
  sumRelations,
} from "./step-counts.ts";

type Run = Omit<AdherenceRun, "exhibits">;

/** Done and recorded, in per cent, at the years, centres or strata of one kind: two grids. */
export function levelExhibits(run: Run, id: string, found: SharesAtLevels): TableExhibit[] {
  const sheet = countedLevels(run, id, found);
  return [
    grid(run, sheet, {
      id: `${id}-done`,
      title: `Done where written down: ${found.title}`,
      cell: doneCell,
    }),
    grid(run, sheet, {
      id: `${id}-recorded`,
      title: `Written down where it applies: ${found.title}`,
      cell: (_, counts, more) => recordedCell(counts, more),
    }),
  ];
}

type Shares = SharesAtLevels["levels"][number]["steps"][number];

interface CountedLevels {
  readonly levels: readonly {
    readonly label: string;
    /** A level of few surgeons shows what each of them does. */
    readonly surgeons: readonly Count[];
    readonly steps: readonly { readonly shares: Shares; readonly counts: StepCounts }[];
  }[];
  readonly relations: readonly Relation[];
}

function countedLevels({ steps }: Run, id: string, found: SharesAtLevels): CountedLevels {
  const counted = (place: string, all: readonly Shares[]) =>
    all.map((shares, at) => ({ shares, counts: stepCounts(place, steps[at]?.label ?? "", shares) }));
  const levels = found.levels.map(({ label, surgeons, steps: all }) => {
    const place = `${id}/${keyPart(label)}`;
    return {
      label,
      // Where nobody is named it may all be one surgeon's work.
      surgeons:
        surgeons === undefined ? [] : [{ key: `adherence/${place}/surgeons`, units: Math.max(1, surgeons) }],
      steps: counted(place, all),
    };
  });
  const elsewhere = counted(nowhere(id), found.elsewhere ?? []);
  return {
    levels,
    relations: steps.flatMap(({ label, shares }, at) => {
      const parts = [...levels.map((level) => level.steps[at]), elsewhere[at]].flatMap((one) =>
        one === undefined ? [] : [one.counts],
      );
      return [...parts.flatMap(stepRelations), ...sumRelations(stepCounts(EVERYBODY, label, shares), parts)];
    }),
  };
}

interface Grid {
  readonly id: string;
  readonly title: string;
  readonly cell: (shares: Shares, counts: StepCounts, more: readonly Count[]) => Cell;
}

function grid({ steps }: Run, { levels, relations }: CountedLevels, { id, title, cell }: Grid): TableExhibit {
  return {
    kind: "table",
    id,
    title,
    columns: [
      { id: "step", label: "Step" },
      ...levels.map(({ label }, at) => ({ id: `level-${at}`, label, align: "end" as const })),
    ],
    rows: steps.map(({ label }, at) => ({
      label,
      cells: levels.map(({ surgeons, steps: all }): Cell => {
        const found = all[at];
        return found === undefined
          ? { kind: "text", text: "none" }
          : cell(found.shares, found.counts, surgeons);
      }),
    })),
    notes: [
      ...(levels.some(({ surgeons }) => surgeons.length > 0)
        ? ["A column with too few surgeons is not shown."]
        : []),
    ],
    relations,
    picture: "shares",
  };
}
