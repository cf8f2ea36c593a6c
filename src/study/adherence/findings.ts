import { highest } from "../../base/highest.ts";
import type { ClearedTable } from "../../disclosure/cleared.ts";
import type { ClearedView } from "../making/view.ts";
import { listed } from "../words.ts";
import { CHANGES, type ChangeReading } from "./change-of-step.ts";

type Row = ClearedTable["rows"][number];

/**
 * What each figure shows, in a sentence, by exhibit. Read off cleared numbers. Where one is hidden none is called the most or the
 * least: those hidden may be it.
 */
export function adherenceFindings(view: ClearedView): ReadonlyMap<string, string> {
  const found = view.all.exhibits.flatMap((exhibit): [string, string | undefined][] => {
    if (exhibit.kind !== "table") return [];
    if (exhibit.id === "done") return [[exhibit.id, mostAndLeast(exhibit)]];
    if (exhibit.id === "before-and-after") return [[exhibit.id, changed(view)]];
    if (exhibit.id.endsWith("-done")) return [[exhibit.id, furthest(exhibit)]];
    if (exhibit.id.endsWith("-recorded")) return [[exhibit.id, leastWritten(exhibit)]];
    return [];
  });
  return new Map(found.flatMap(([id, words]) => (words === undefined ? [] : [[id, words]])));
}

function mostAndLeast({ rows }: ClearedTable): string | undefined {
  if (!rows.every(isTold)) return undefined;
  const [most, least] = [highest(rows, first), highest(rows, (row) => -first(row))];
  if (most === undefined || least === undefined || most === least) return undefined;
  return `Most often: ${most.label}, ${most.cells[0]?.text}. Least often: ${least.label}, ${least.cells[0]?.text}.`;
}

/** By the words of the change as they are shown; they hold no numbers. */
function changed(view: ClearedView): string | undefined {
  const table = view.table("change");
  const at = (table?.columns.findIndex(({ id }) => id === "reading") ?? 0) - 1;
  const rows = table?.rows ?? [];
  if (rows.length === 0 || rows.some(({ cells }) => cells[at]?.hidden !== false)) return undefined;
  const of = (reading: ChangeReading) =>
    rows.filter(({ cells }) => cells[at]?.text === CHANGES[reading]).map(({ label }) => label);
  const parts = (
    [
      ["more", "More often after"],
      ["moreIfWritten", "More often as written, which the rest could undo"],
      ["less", "Less often after"],
      ["lessIfWritten", "Less often as written, which the rest could undo"],
      ["few", "Written down for too few"],
    ] as const
  ).flatMap(([reading, words]) => {
    const steps = of(reading);
    return steps.length === 0 ? [] : [`${words}: ${listed(steps)}.`];
  });
  return parts.length === 0 ? "For no step could a change be told from chance." : parts.join(" ");
}

/** The step whose columns lie furthest apart. */
function furthest({ rows, columns }: ClearedTable): string | undefined {
  const row = rows.some(isHidden) ? undefined : highest(rows.filter(isTold), spread);
  return row === undefined || spread(row) === 0
    ? undefined
    : `Furthest apart: ${row.label}, ${ends(row, columns)}.`;
}

function leastWritten({ rows, columns }: ClearedTable): string | undefined {
  const told = rows.some(isHidden) ? [] : rows.filter(isTold);
  const row = highest(told, (one) => -Math.min(...one.cells.flatMap(({ values }) => values)));
  return row === undefined ? undefined : `Least written down: ${row.label}, ${ends(row, columns)}.`;
}

/** "49 % (2020–2022) to 73 % (2008–2010)". */
function ends({ cells }: Row, columns: ClearedTable["columns"]): string {
  const shown = cells.flatMap(({ values: [value], text }, at) =>
    value === undefined ? [] : [{ value, text: `${text} (${columns[at + 1]?.label})` }],
  );
  const lowest = highest(shown, ({ value }) => -value);
  const most = highest(shown, ({ value }) => value);
  return lowest === most ? `${lowest?.text}` : `${lowest?.text} to ${most?.text}`;
}

function spread({ cells }: Row): number {
  const values = cells.flatMap((cell) => cell.values);
  return Math.max(...values) - Math.min(...values);
}

function first({ cells }: Row): number {
  return cells[0]?.values[0] ?? 0;
}

function isHidden({ cells }: Row): boolean {
  return cells.some(({ hidden }) => hidden);
}

function isTold({ cells }: Row): boolean {
  return cells.some(({ values }) => values.length > 0);
}
