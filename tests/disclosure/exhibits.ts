import type {
  Cell,
  Count,
  CurveExhibit,
  ExhibitCurve,
  FlowExhibit,
  Relation,
  TableExhibit,
} from "../../src/disclosure/exhibit.ts";

/** Short forms of exhibits for these tests. */
export const count = (key: string, units: number, persons?: number): Count =>
  persons === undefined ? { key, units } : { key, units, persons };

export const countCell = (of: Count): Cell => ({ kind: "count", count: of });
export const shareCell = (part: Count, whole: Count): Cell => ({ kind: "share", part, whole });

export function table(
  id: string,
  rows: readonly (readonly Cell[])[],
  relations: readonly Relation[] = [],
): TableExhibit {
  return {
    kind: "table",
    id,
    title: id,
    columns: ["row", ...(rows[0] ?? []).keys()].map((id) => ({ id: `${id}`, label: `${id}` })),
    rows: rows.map((cells, at) => ({ label: `row ${at}`, cells })),
    relations,
  };
}

/** Rows by columns with both totals, every relation declared; keys "id/row/column", totals "id/row", "id/column". */
export function crossTable(
  id: string,
  cells: Readonly<Record<string, readonly number[]>>,
  columns: readonly string[],
  cellOf: (part: Count, whole: Count) => Cell = shareCell,
): TableExhibit {
  const names = Object.keys(cells);
  const at = (row: string, column: number) => cells[row]?.[column] ?? 0;
  const part = (row: string, column: number) => count(`${id}/${row}/${columns[column]}`, at(row, column));
  const places = [...columns.keys()];
  const rowTotal = (row: string) =>
    count(
      `${id}/${row}`,
      places.reduce((sum, column) => sum + at(row, column), 0),
    );
  const columnTotal = (column: number) =>
    count(
      `${id}/${columns[column]}`,
      names.reduce((sum, row) => sum + at(row, column), 0),
    );
  const all = count(
    id,
    names.reduce((sum, row) => sum + rowTotal(row).units, 0),
  );
  return table(
    id,
    [
      ...names.map((row) => [
        ...places.map((column) => cellOf(part(row, column), rowTotal(row))),
        countCell(rowTotal(row)),
      ]),
      [...places.map((column) => countCell(columnTotal(column))), countCell(all)],
    ],
    [
      ...names.map((row) => ({ total: rowTotal(row), parts: places.map((column) => part(row, column)) })),
      ...places.map((column) => ({
        total: columnTotal(column),
        parts: names.map((row) => part(row, column)),
      })),
      { total: all, parts: names.map(rowTotal) },
      { total: all, parts: places.map(columnTotal) },
    ],
  );
}

/** What leaves a group on a day: events, censored and, where given, competing. */
export type Day = readonly [tick: number, events: number, censored: number, competing?: number];

/** A curve whose value is one minus the product over its days; limits 0.01 to either side of it. */
export function curve(
  key: string,
  units: number,
  days: readonly Day[],
  more: Partial<ExhibitCurve> = {},
): ExhibitCurve {
  let [left, free] = [units, 1];
  const steps = days.map(([time, events, censored, competing = 0]) => {
    const atRisk = left;
    free *= 1 - events / atRisk;
    left -= events + censored + competing;
    return { time, atRisk, events, censored, competing, value: 1 - free };
  });
  return {
    label: key,
    style: 0,
    key,
    units,
    time: steps.map((step) => step.time),
    value: steps.map((step) => step.value),
    low: steps.map((step) => Math.max(0, step.value - 0.01)),
    high: steps.map((step) => step.value + 0.01),
    atRisk: steps.map((step) => step.atRisk),
    eventsAt: steps.map((step) => step.events),
    censoredAt: steps.map((step) => step.censored),
    ...(days.some((day) => day.length === 4) ? { competingAt: steps.map((step) => step.competing) } : {}),
    drawnTo: days.at(-1)?.[0] ?? 0,
    ...more,
  };
}

export function curveExhibit(
  curves: readonly ExhibitCurve[],
  more: Partial<CurveExhibit> = {},
): CurveExhibit {
  return {
    kind: "curves",
    id: "curves",
    title: "curves",
    question: "how many by when",
    risk: "net",
    valueLabel: "share",
    eventWord: "revisions",
    unitWord: "knees",
    timeUnit: { word: "day", perYear: 365.25 },
    years: [0, 1, 3, 5],
    curves,
    ...more,
  };
}

export function flow(boxes: FlowExhibit["boxes"], groups: FlowExhibit["groups"] = []): FlowExhibit {
  return {
    kind: "flow",
    id: "flow",
    title: "flow",
    unitWord: "knees",
    personWord: "patients",
    boxes,
    groups,
  };
}
