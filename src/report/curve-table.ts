import { capital, numbered } from "../base/words.ts";
import type { Cleared, ClearedCell, ClearedCurves, ClearedTable } from "../disclosure/cleared.ts";
import { mapCleared } from "../disclosure/cleared-value.ts";
import { shareScale, yearCell } from "../disclosure/read-curve.ts";

type Row = ClearedTable["rows"][number];

/** Every step or point of every curve as it was cleared, in shares from 0 to 1: the file beside the figure. */
export function curveTable(exhibit: Cleared<ClearedCurves>): Cleared<ClearedTable> {
  const unit = `${exhibit.timeUnit.word}s`;
  const isSteps = exhibit.drawing === "steps";
  const rows = exhibit.curves.flatMap((curve) =>
    curve.time.map((time, step) => ({
      label: curve.label,
      heading: false,
      indent: 0,
      cells: [
        plainNumber(time),
        ...(isSteps ? [plainNumber(curve.time[step + 1] ?? curve.drawnTo)] : []),
        plainNumber(curve.value[step] ?? 0),
        limitNumber(curve.low[step] ?? null),
        limitNumber(curve.high[step] ?? null),
      ],
    })),
  );
  const times = isSteps
    ? [
        { id: "from", label: `From (${unit})`, align: "end" as const },
        { id: "to", label: `To (${unit})`, align: "end" as const },
      ]
    : [{ id: "at", label: `At (${unit})`, align: "end" as const }];
  const title = `${exhibit.title}: every ${isSteps ? "step" : "point"} drawn`;
  return asTable(exhibit, isSteps ? "steps" : "points", title, rows, [
    { id: "group", label: "Group", align: "start" },
    ...times,
    { id: "value", label: `${exhibit.valueLabel}, from 0 to 1`, align: "end" },
    { id: "low", label: "Lower limit", align: "end" },
    { id: "high", label: "Upper limit", align: "end" },
  ]);
}

/** The curves at the years of the table, with the numbers beneath them: the twin a reader meets on the page. */
export function yearTable(exhibit: Cleared<ClearedCurves>): Cleared<ClearedTable> {
  const { word } = shareScale(exhibit);
  const competing = exhibit.landmarks.some((row) => row.competing !== undefined);
  const rows = exhibit.landmarks.flatMap((landmark): Row[] => {
    return [
      { label: landmark.label, heading: true, indent: 0, cells: [] },
      ...exhibit.years.map((year, at) => ({
        label: numbered(year, "year"),
        heading: false,
        indent: 1,
        cells: [
          yearCell(exhibit, landmark.label, at),
          landmark.atRisk[at] ?? blank,
          landmark.events[at] ?? blank,
          ...(competing ? [landmark.competing?.[at] ?? blank] : []),
          landmark.censored[at] ?? blank,
        ],
      })),
    ];
  });
  return asTable(exhibit, "years", exhibit.title, rows, [
    { id: "year", label: "Follow-up", align: "start" },
    { id: "value", label: `${exhibit.valueLabel}, ${word} (limits)`, align: "end" },
    { id: "atRisk", label: "At risk", align: "end" },
    { id: "events", label: `${capital(exhibit.eventWord)} so far`, align: "end" },
    ...(competing ? [{ id: "competing", label: "Other end so far", align: "end" as const }] : []),
    { id: "censored", label: "Censored so far", align: "end" },
  ]);
}

const blank: ClearedCell = { text: "–", values: [], hidden: false };

function plainNumber(value: number): ClearedCell {
  return { text: String(value), values: [value], hidden: false };
}

function limitNumber(limit: number | null): ClearedCell {
  return limit === null ? { text: "none", values: [], hidden: false } : plainNumber(limit);
}

function asTable(
  exhibit: Cleared<ClearedCurves>,
  suffix: string,
  title: string,
  rows: readonly Row[],
  columns: ClearedTable["columns"],
): Cleared<ClearedTable> {
  const { id, notes, settings } = exhibit;
  // Every number in the rows was read off the cleared exhibit: another arrangement of it shows nothing new.
  return mapCleared(exhibit, () => ({
    kind: "table",
    id: `${id}-${suffix}`,
    title,
    columns,
    rows,
    notes,
    settings,
  }));
}
