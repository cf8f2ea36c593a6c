import { roundDecimals } from "../base/display.ts";
import type { TimeUnit } from "../base/time-unit.ts";
import type { ClearedCurve, CurveDrawing } from "./cleared.ts";
import { type CurvePlan, type NotDrawn, type Standing, standingCounts, yearAt } from "./curve-plan.ts";
import { fullFigures } from "./full-figures.ts";
import { isShown, type Ledger } from "./ledger.ts";
import { monthTickAtOrAfter } from "./months.ts";

/** A line, or why there is none. */
export interface DrawnCurve {
  readonly label: string;
  readonly curve: ClearedCurve | undefined;
  readonly notDrawn: NotDrawn | undefined;
  /** The line ends before the rule of the curve would end it. */
  readonly cut: boolean;
  /** Steps that went into a later one. */
  readonly stepsMerged: number;
}

/** May a point stand at this year with so many events, beside what the readers hold? */
type MayPoint = (year: number, events: number) => boolean;

const DECIMALS = 4;

/**
 * The line of a curve for its audience.
 *
 * Analysts get every tick. Others get points that each hold at least the threshold of events and stand at the end of
 * the month of their last one; straight lines join them. At a year whose events are shown the line is exact: it runs
 * level from the last point to that year, because nothing happened between. What is left at the end joins the last
 * point; where that may not be told either, the line stops at the last year whose events are shown.
 */
export function drawCurve(
  ledger: Ledger,
  plan: CurvePlan,
  unit: TimeUnit,
  mayPoint: MayPoint = () => true,
): DrawnCurve {
  const { curve, end, notDrawn } = plan;
  const none = { label: curve.label, curve: undefined, cut: false, stepsMerged: 0 };
  if (end === undefined || notDrawn !== undefined) return { ...none, notDrawn };
  if (ledger.threshold === 0) return { ...none, notDrawn, curve: everyTick(plan, end) };
  // The first point over its events would give the size back.
  if (isSizeHidden(ledger, plan)) return { ...none, notDrawn: "size hidden" };
  const anchors = shownStandings(ledger, plan);
  const last = anchors.at(-1);
  if (last === undefined) return { ...none, notDrawn: "too few events" };
  const points = mergeSteps(ledger, plan, anchors, unit, mayPoint);
  const line = withAnchors(plan, points, anchors);
  const ticksWithEvents = curve.time.filter((tick, at) => tick <= last.tick && (curve.eventsAt[at] ?? 0) > 0);
  return {
    label: curve.label,
    notDrawn,
    curve: lineThrough(plan, line, last.tick, (value) => roundDecimals(value, DECIMALS)),
    cut: last.tick < end,
    stepsMerged: ticksWithEvents.length - points.length,
  };
}

function isSizeHidden({ byKey }: Ledger, { groupKey }: CurvePlan): boolean {
  return byKey.get(groupKey)?.hidden !== undefined;
}

/** Merged steps drawn as steps would lie below the estimate for years. */
export function drawingFor(threshold: number): CurveDrawing {
  return threshold === 0 ? "steps" : "joined points";
}

interface Step {
  readonly tick: number;
  /** Place in the curve's arrays. */
  readonly at: number;
}

function everyTick(plan: CurvePlan, end: number): ClearedCurve {
  const steps = plan.curve.time.flatMap((tick, at) => (tick <= end ? [{ tick, at }] : []));
  return lineThrough(plan, steps, end, fullFigures);
}

function lineThrough(
  { curve }: CurvePlan,
  steps: readonly Step[],
  drawnTo: number,
  round: (value: number) => number,
): ClearedCurve {
  const limit = (limits: readonly (number | null)[], at: number) => {
    const value = limits[at] ?? null;
    return value === null ? null : round(value);
  };
  // The line starts at 0 with the first interval there is while nothing has happened.
  const startsFlat = curve.value[0] === 0;
  const start =
    startsFlat && steps[0]?.tick === 0 && steps[0].at === 0 ? [] : [{ tick: 0, at: startsFlat ? 0 : -1 }];
  const all = [...start, ...steps];
  return {
    label: curve.label,
    style: curve.style,
    time: all.map(({ tick }) => tick),
    value: all.map(({ at }) => round(curve.value[at] ?? 0)),
    low: all.map(({ at }) => limit(curve.low, at)),
    high: all.map(({ at }) => limit(curve.high, at)),
    drawnTo,
  };
}

/** Years, and the line's end, whose events are shown; the line is exact there. */
function shownStandings(ledger: Ledger, plan: CurvePlan): Standing[] {
  const ends = plan.last === undefined ? [] : [plan.last];
  return [...plan.landmarks, ...ends]
    .filter((at) => at.tick > 0)
    .filter((at) => {
      const entry = ledger.byKey.get(standingCounts(plan, at).events.key);
      return entry !== undefined && isShown(entry);
    })
    .sort((a, b) => a.tick - b.tick);
}

/** Between two anchors a step closes as soon as it may: enough events in it, and enough or none left. */
function mergeSteps(
  ledger: Ledger,
  plan: CurvePlan,
  anchors: readonly Standing[],
  unit: TimeUnit,
  mayPoint: MayPoint,
): Step[] {
  const { threshold } = ledger;
  const guarded = guardedEvents(ledger, plan);
  const allowed = narrowerPoints(ledger, plan, unit, mayPoint);
  const rises = risesOf(plan);
  const steps: Step[] = [];
  let [next, closed] = [0, 0];
  for (const anchor of anchors) {
    for (let rise = rises[next]; rise !== undefined && rise.tick <= anchor.tick; rise = rises[next]) {
      next += 1;
      const tick = Math.min(monthTickAtOrAfter(rise.tick, unit), anchor.tick);
      const follows = rises[next];
      if (follows !== undefined && follows.tick <= tick) continue;
      const left = anchor.events - rise.events;
      const mayLeave =
        left >= threshold && guarded.every((events) => Math.abs(events - rise.events) >= threshold);
      if (rise.events - closed < threshold || (left > 0 && !mayLeave)) continue;
      if (allowed !== undefined && !allowed.has(rise.at)) continue;
      if (!mayPoint(yearAt(tick, unit), rise.events)) continue;
      steps.push({ tick, at: rise.at });
      closed = rise.events;
    }
  }
  return steps;
}

/** Where the line of a narrower circle has a point: another one between would tell its readers a small number of events. */
function narrowerPoints(
  { narrower }: Ledger,
  plan: CurvePlan,
  unit: TimeUnit,
  mayPoint: MayPoint,
): Set<number> | undefined {
  if (narrower === undefined) return undefined;
  const anchors = shownStandings(narrower, plan);
  const points = withAnchors(plan, mergeSteps(narrower, plan, anchors, unit, mayPoint), anchors);
  return new Set(points.map(({ at }) => at));
}

/** The points, and the years at which the line must be exact: the state there is that of the last event before. */
function withAnchors({ curve }: CurvePlan, points: readonly Step[], anchors: readonly Standing[]): Step[] {
  const taken = new Set(points.map(({ tick }) => tick));
  const between = anchors
    .filter(({ tick }) => !taken.has(tick))
    .map(({ tick }) => ({ tick, at: lastEventBy(curve, tick) }));
  return [...points, ...between].sort((a, b) => a.tick - b.tick);
}

/** Place of the last tick with an event up to here; before the first, that of the start. */
function lastEventBy({ time, value, eventsAt }: CurvePlan["curve"], tick: number): number {
  const found = time.findLastIndex((other, at) => other <= tick && (eventsAt[at] ?? 0) > 0);
  return found < 0 && value[0] === 0 ? 0 : found;
}

/** Ticks with events, and how many there have been by then. */
function risesOf({ curve }: CurvePlan): (Step & { readonly events: number })[] {
  let events = 0;
  return curve.time.flatMap((tick, at) => {
    const here = curve.eventsAt[at] ?? 0;
    events += here;
    return here === 0 ? [] : [{ tick, at, events }];
  });
}

/** Events up to a year that would give back a count elsewhere: no step may end near them. */
function guardedEvents(ledger: Ledger, plan: CurvePlan): number[] {
  return plan.landmarks.flatMap((at) => {
    const entry = ledger.byKey.get(standingCounts(plan, at).events.key);
    return entry?.hidden === "subtraction" ? [entry.units] : [];
  });
}
