import { highest } from "../../base/highest.ts";
import type { ClearedTable } from "../../disclosure/cleared.ts";
import type { ClearedView } from "../making/view.ts";
import { listed } from "../words.ts";
import type { AdherenceRun } from "./run-adherence.ts";

type Row = ClearedTable["rows"][number];

/** What each figure shows, in a sentence, by exhibit. Read off cleared numbers; a figure whose numbers are hidden has none. */
export function adherenceFindings(run: AdherenceRun, view: ClearedView): ReadonlyMap<string, string> {
  const found = view.all.exhibits.flatMap((exhibit): [string, string | undefined][] => {
    if (exhibit.kind !== "table") return [];
    if (exhibit.id === "done") return [[exhibit.id, mostAndLeast(exhibit)]];
    if (exhibit.id === "before-and-after") return [[exhibit.id, changed(run)]];
    if (exhibit.id.endsWith("-done")) return [[exhibit.id, furthest(exhibit)]];
    if (exhibit.id.endsWith("-recorded")) return [[exhibit.id, leastWritten(exhibit)]];
    return [];
  });
  return new Map(found.flatMap(([id, words]) => (words === undefined ? [] : [[id, words]])));
}

function mostAndLeast({ rows }: ClearedTable): string | undefined {
  const told = rows.filter(isTold);
  const [most, least] = [highest(told, first), highest(told, (row) => -first(row))];
  if (most === undefined || least === undefined || most === least) return undefined;
  return `Most often: ${most.label}, ${most.cells[0]?.text}. Least often: ${least.label}, ${least.cells[0]?.text}.`;
}

/** By the fixed readings of the change; they hold no numbers. */
function changed({ steps }: AdherenceRun): string {
  const of = (wanted: string) =>
    steps.filter(({ change }) => change?.reading.startsWith(wanted)).map(({ label }) => label);
  const [more, less] = [of("more"), of("less")];
  const parts = [
    ...(more.length === 0 ? [] : [`More often after: ${listed(more)}.`]),
    ...(less.length === 0 ? [] : [`Less often after: ${listed(less)}.`]),
  ];
  return parts.length === 0 ? "For no step could a change be told from chance." : parts.join(" ");
}

/** The step whose columns lie furthest apart. */
function furthest({ rows, columns }: ClearedTable): string | undefined {
  const row = highest(rows.filter(isTold), (one) => spread(one));
  return row === undefined || spread(row) === 0
    ? undefined
    : `Furthest apart: ${row.label}, ${ends(row, columns)}.`;
}

function leastWritten({ rows, columns }: ClearedTable): string | undefined {
  const row = highest(rows.filter(isTold), (one) => -Math.min(...one.cells.flatMap(({ values }) => values)));
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

function isTold({ cells }: Row): boolean {
  return cells.some(({ values }) => values.length > 0);
}
