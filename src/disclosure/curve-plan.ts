import { ArgumentError } from "../base/errors.ts";
import { type TimeUnit, tickOfYear } from "../base/time-unit.ts";
import type { Audience } from "./audience.ts";
import type { Count, CurveExhibit, ExhibitCurve } from "./exhibit.ts";
import { monthTickAtOrBefore } from "./months.ts";

/** Why a curve is not drawn. */
export type NotDrawn = "group too small" | "too few events" | "table only" | "size hidden";

/** What has happened to a group by the end of a tick. */
export interface Standing {
  readonly year: number;
  readonly tick: number;
  readonly atRisk: number;
  readonly events: number;
  readonly censored: number;
  readonly competing: number;
}

/** What of a curve an audience may see, before any count is hidden. */
export interface CurvePlan {
  readonly curve: ExhibitCurve;
  /** Key of the group's size. */
  readonly groupKey: string;
  /** Last tick shown; a month's end unless the audience is the analyst. Undefined: nothing is shown. */
  readonly end: number | undefined;
  readonly notDrawn: NotDrawn | undefined;
  readonly delayedEntry: boolean;
  /** At the years up to the end. */
  readonly landmarks: readonly Standing[];
  /** Where the line ends. */
  readonly last: Standing | undefined;
}

/** An external figure needs this many thresholds of events. */
const EXTERNAL_THRESHOLDS = 5;

/** What of an exhibit's curves an audience may see, before any count is hidden. */
export function planCurves(exhibit: CurveExhibit, audience: Audience, threshold: number): CurvePlan[] {
  if (exhibit.years.some((year, at) => year < 0 || year <= (exhibit.years[at - 1] ?? -1))) {
    throw new ArgumentError(`disclose: the years of exhibit "${exhibit.id}" must rise from 0 up`);
  }
  return exhibit.curves.map((curve) => planCurve(exhibit, curve, audience, threshold));
}

/** Decides where a curve ends and whether it is a picture at all. */
function planCurve(
  exhibit: CurveExhibit,
  curve: ExhibitCurve,
  audience: Audience,
  threshold: number,
): CurvePlan {
  requireParallel(curve);
  const { timeUnit, years } = exhibit;
  const delayedEntry = hasDelayedEntry(curve);
  const basis = { curve, groupKey: groupKeyOf(curve), delayedEntry };
  const end =
    curve.drawnTo === undefined || threshold === 0
      ? curve.drawnTo
      : monthTickAtOrBefore(curve.drawnTo, timeUnit);
  if (end === undefined) {
    return { ...basis, end, notDrawn: "group too small", landmarks: [], last: undefined };
  }
  const at = (year: number, tick: number) => standing(curve, delayedEntry, year, tick);
  const landmarks = years
    .map((year) => at(year, tickOfYear(year, timeUnit)))
    .filter(({ tick }) => tick <= end);
  const last = at(yearAt(end, timeUnit), end);
  return { ...basis, end, notDrawn: whyNotDrawn(last.events, audience, threshold), landmarks, last };
}

/** "loosening/tourniquet" is the event, then the group; whoever has more parts did not escape a label. */
function groupKeyOf({ key }: ExhibitCurve): string {
  const [event = "", group = "", ...more] = key.split("/");
  if (event === "" || group === "" || more.length > 0) {
    throw new ArgumentError(
      `disclose: the key of a curve is its event and its group, "event/group", each made safe by keyPart; received "${key}"`,
    );
  }
  return `group/${group}`;
}

/** Counts of a curve up to a year, under the keys that every other exhibit of the report uses. */
export interface StandingCounts {
  readonly events: Count;
  readonly censored: Count;
  readonly competing?: Count;
}

export function standingCounts({ curve }: CurvePlan, at: Standing): StandingCounts {
  const to = (word: string, units: number): Count => ({ key: `${word}/${curve.key}/to:${at.year}`, units });
  const events = to("events", at.events);
  // A net curve's censored include the deaths that a crude curve of the same key counts apart.
  if (curve.competingAt === undefined) return { events, censored: to("left", at.censored) };
  return { events, censored: to("censored", at.censored), competing: to("competing", at.competing) };
}

export function countList({ events, censored, competing }: StandingCounts): Count[] {
  return competing === undefined ? [events, censored] : [events, censored, competing];
}

function whyNotDrawn(events: number, audience: Audience, threshold: number): NotDrawn | undefined {
  if (events > 0 && events < threshold) return "too few events";
  if (audience === "external" && events < EXTERNAL_THRESHOLDS * threshold) return "table only";
  return undefined;
}

/** Ticks come in whole numbers, so a year and a tick name each other. */
export function yearAt(tick: number, unit: TimeUnit): number {
  return Math.ceil((10_000 * tick) / unit.perYear) / 10_000;
}

/** At the end of the tick; year 0 is the start, before anything has happened. */
function standing(curve: ExhibitCurve, delayedEntry: boolean, year: number, tick: number): Standing {
  if (tick === 0 && !delayedEntry) {
    return { year, tick, atRisk: curve.units, events: 0, censored: 0, competing: 0 };
  }
  const done = curve.time.findLastIndex((time) => time <= tick);
  const sum = (counts: readonly number[] | undefined) =>
    (counts ?? []).slice(0, done + 1).reduce((total, units) => total + units, 0);
  return {
    year,
    tick,
    // Whoever is at risk at the next tick at which anything happens was so at the end of this one.
    atRisk:
      curve.atRisk[done + 1] ?? (done < 0 ? curve.units : (curve.atRisk[done] ?? 0) - leaving(curve, done)),
    events: sum(curve.eventsAt),
    censored: sum(curve.censoredAt),
    competing: sum(curve.competingAt),
  };
}

function leaving(curve: ExhibitCurve, at: number): number {
  return (curve.eventsAt[at] ?? 0) + (curve.censoredAt[at] ?? 0) + (curve.competingAt?.[at] ?? 0);
}

/** Without it, those at risk are always those of the tick before without those who left. */
function hasDelayedEntry(curve: ExhibitCurve): boolean {
  return curve.atRisk.some((atRisk, at) => {
    const expected = at === 0 ? curve.units : (curve.atRisk[at - 1] ?? 0) - leaving(curve, at - 1);
    return atRisk !== expected;
  });
}

function requireParallel(curve: ExhibitCurve): void {
  const { time, value, low, high, atRisk, eventsAt, censoredAt, competingAt } = curve;
  const arrays = [
    value,
    low,
    high,
    atRisk,
    eventsAt,
    censoredAt,
    ...(competingAt === undefined ? [] : [competingAt]),
  ];
  if (arrays.some((array) => array.length !== time.length)) {
    throw new ArgumentError(`disclose: the arrays of curve "${curve.key}" differ in length`);
  }
  if (time.some((tick, at) => tick < 0 || tick <= (time[at - 1] ?? -1))) {
    throw new ArgumentError(`disclose: the ticks of curve "${curve.key}" must rise from 0 up`);
  }
}
