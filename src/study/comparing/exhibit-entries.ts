import { z } from "zod";
import { numbered } from "../../base/words.ts";

const cell = z.object({
  text: z.string(),
  values: z.array(z.number()),
  hidden: z.boolean(),
});
const numbers = z.array(z.number().nullable());
const table = z.object({
  kind: z.literal("table"),
  columns: z.array(z.object({ label: z.string() })),
  rows: z.array(z.object({ label: z.string(), heading: z.boolean(), cells: z.array(cell) })),
});
const cells = z.array(cell);
const curves = z.object({
  kind: z.literal("curves"),
  timeUnit: z.object({ word: z.string() }),
  years: z.array(z.number()),
  curves: z.array(
    z.object({
      label: z.string(),
      time: numbers,
      value: numbers,
      low: numbers,
      high: numbers,
      drawnTo: z.number(),
    }),
  ),
  landmarks: z.array(
    z.object({
      label: z.string(),
      atRisk: cells,
      events: cells,
      censored: cells,
      competing: cells.optional(),
    }),
  ),
});
const box = z.object({ label: z.string(), units: cell, persons: cell.optional() });
const flow = z.object({
  kind: z.literal("flow"),
  boxes: z.array(box.extend({ removed: z.array(box) })),
  groups: z.array(box),
});
const lines = z.object({
  kind: z.literal("lines"),
  across: z.string(),
  lines: z.array(z.object({ label: z.string(), x: numbers, y: numbers, low: numbers, high: numbers })),
});
const exhibit = z.discriminatedUnion("kind", [table, curves, flow, lines]);

/** One printed place of an exhibit. */
export interface Entry {
  /** Row or group, and what stands over it. */
  readonly row: string;
  readonly column: string;
  readonly text: string;
  readonly values: readonly number[];
  readonly hidden: boolean;
}

/** A line as it is drawn, point by point. */
export interface Drawn {
  readonly label: string;
  /** What the points are counted in: "day". */
  readonly along: string;
  readonly points: readonly { readonly at: number; readonly values: string }[];
}

/** What an exhibit of a results.json shows, one entry a place; undefined where this version cannot read it. */
export function exhibitEntries(
  value: unknown,
): { readonly entries: readonly Entry[]; readonly drawn: readonly Drawn[] } | undefined {
  const parsed = exhibit.safeParse(value);
  if (!parsed.success) return undefined;
  switch (parsed.data.kind) {
    case "table":
      return { entries: tableEntries(parsed.data), drawn: [] };
    case "curves":
      return { entries: curveEntries(parsed.data), drawn: drawnCurves(parsed.data) };
    case "flow":
      return { entries: flowEntries(parsed.data), drawn: [] };
    case "lines":
      return { entries: [], drawn: drawnLines(parsed.data) };
  }
}

function tableEntries({ columns, rows }: z.output<typeof table>): Entry[] {
  let heading = "";
  return rows.flatMap((row) => {
    if (row.heading) heading = `${row.label}, `;
    // Column 0 heads the labels of the rows.
    return row.cells.map((one, at) => entry(`${heading}${row.label}`, columns[at + 1]?.label ?? "", one));
  });
}

function curveEntries({ years, landmarks }: z.output<typeof curves>): Entry[] {
  return landmarks.flatMap(({ label, atRisk, events, censored, competing = [] }) =>
    years.flatMap((year, at) =>
      Object.entries({ "at risk": atRisk, events, censored, "other end first": competing }).flatMap(
        ([column, all]) => {
          const one = all[at];
          return one === undefined ? [] : [entry(`${label}, ${numbered(year, "year")}`, column, one)];
        },
      ),
    ),
  );
}

function flowEntries({ boxes, groups }: z.output<typeof flow>): Entry[] {
  const entriesOf = (row: string, { units, persons }: z.output<typeof box>) => [
    entry(row, "number", units),
    ...(persons === undefined ? [] : [entry(row, "persons", persons)]),
  ];
  return [
    ...boxes.flatMap((one) => [
      ...entriesOf(one.label, one),
      ...one.removed.flatMap((out) => entriesOf(`taken out: ${out.label}`, out)),
    ]),
    ...groups.flatMap((group) => entriesOf(`group: ${group.label}`, group)),
  ];
}

function drawnCurves({ timeUnit, curves: all }: z.output<typeof curves>): Drawn[] {
  return all.map(({ label, time, value, low, high, drawnTo }) => ({
    label,
    along: timeUnit.word,
    points: [...points(time, [value, low, high]), { at: drawnTo, values: "end" }],
  }));
}

function drawnLines({ across, lines: all }: z.output<typeof lines>): Drawn[] {
  return all.map(({ label, x, y, low, high }) => ({
    label,
    along: across,
    points: points(x, [y, low, high]),
  }));
}

function points(along: readonly (number | null)[], columns: readonly (readonly (number | null)[])[]) {
  return along.map((at, place) => ({
    at: at ?? 0,
    values: columns.map((column) => String(column[place] ?? null)).join(" "),
  }));
}

function entry(row: string, column: string, { text, values, hidden }: z.output<typeof cell>): Entry {
  return { row, column, text, values, hidden };
}
