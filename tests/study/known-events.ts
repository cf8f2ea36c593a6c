import type { ClearedCell, ClearedCurves, ClearedExhibits } from "../../src/disclosure/cleared.ts";
import type { CurveExhibit, ExhibitCurve } from "../../src/disclosure/exhibit.ts";
import type { StudyRun } from "../../src/study/run.ts";

/**
 * Cumulative numbers of events that a reader can tell for one group, from whatever tells them: the points of both curves
 * turned back into events, the numbers beneath, exact risks, periods added up, the total.
 *
 * The reader is given the true curve to turn values back with: nobody outside can do better.
 */
export function knownEvents(run: StudyRun, printed: ClearedExhibits, group: string): Set<number> {
  const known = new Set<number>([0]);
  for (const exhibit of run.exhibits) {
    const shown = printed.exhibits.find(({ id }) => id === exhibit.id);
    if (exhibit.kind !== "curves" || shown?.kind !== "curves") continue;
    const curve = exhibit.curves.find(({ label }) => label === group);
    if (curve === undefined) continue;
    for (const events of byPoints(curve, shown, group)) known.add(events);
    const beneath = shown.landmarks.find(({ label }) => label === group)?.events ?? [];
    for (const cell of beneath) addExact(known, cell);
    for (const events of byRisks(exhibit, curve, printed, run)) known.add(events);
  }
  for (const events of byPeriods(run, printed, group)) known.add(events);
  return known;
}

function addExact(known: Set<number>, { hidden, coarse, values: [value] }: ClearedCell): void {
  if (!hidden && coarse === undefined && value !== undefined) known.add(value);
}

/** Events up to the tick of each point at which the line rises. */
function byPoints(curve: ExhibitCurve, { curves }: ClearedCurves, group: string): number[] {
  const drawn = curves.find(({ label }) => label === group);
  return (drawn?.time ?? []).flatMap((tick, at) =>
    at > 0 && drawn?.value[at] !== drawn?.value[at - 1] ? [eventsTo(curve, tick)] : [],
  );
}

/** A risk at a year that is not in whole steps tells the events by then. */
function byRisks(exhibit: CurveExhibit, curve: ExhibitCurve, printed: ClearedExhibits, { facts }: StudyRun) {
  const table = printed.exhibits.find(({ id }) => id === "risk-at-years");
  if (table?.kind !== "table") return [];
  const column = facts.groups.indexOf(curve.label);
  return facts.plan.years.flatMap((year) => {
    const word = exhibit.risk === "crude" ? "Crude" : "Net";
    const cell = table.rows.find(({ label }) => label === `${word}, at ${year} years`)?.cells[column];
    if (cell === undefined || cell.hidden || cell.coarse !== undefined || cell.values.length === 0) return [];
    return [eventsTo(curve, Math.floor(year * exhibit.timeUnit.perYear))];
  });
}

/** Periods from the first on, as long as none is hidden; all of them are the total. */
function byPeriods({ facts }: StudyRun, printed: ClearedExhibits, group: string): number[] {
  const rates = printed.exhibits.find(({ id }) => id === "rates");
  const rows = rates?.kind === "table" ? rates.rows.filter(({ label }) => label === group) : [];
  const sums: number[] = [];
  let sum = 0;
  for (const { cells } of rows) {
    const [events] = cells[0]?.values ?? [];
    if (events === undefined) return sums;
    sum += events;
    sums.push(sum);
  }
  const test = printed.exhibits.find(({ id }) => id === "log-rank");
  const total = test?.kind === "table" ? test.rows[0]?.cells[facts.groups.indexOf(group)] : undefined;
  if (total !== undefined && !total.hidden && total.values[0] !== undefined) sums.push(total.values[0]);
  return sums;
}

function eventsTo({ time, eventsAt }: ExhibitCurve, tick: number): number {
  return time.reduce((sum, other, at) => sum + (other <= tick ? (eventsAt[at] ?? 0) : 0), 0);
}
