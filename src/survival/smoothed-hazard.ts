import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { type TimeUnit, tickOfYear, yearsOfTicks } from "../base/time-unit.ts";
import { requireLevel, requirePositive } from "../numeric/argument-checks.ts";
import { normalUpperQuantile } from "../numeric/normal.ts";
import type { CountsByTime } from "./counts.ts";
import { type DrawnTo, drawnTo } from "./drawn-to.ts";
import { eventIndexes, eventsInRole, netRoles } from "./event-roles.ts";
import { followedStretches } from "./followed-stretches.ts";
import type { LimitSource } from "./results.ts";
import { atRiskAt, type RiskSteps, riskSteps, stepsUpTo } from "./risk-steps.ts";

export interface SmoothedHazardOptions {
  /** Half the window in years: events up to this long before and after a moment count towards it. */
  readonly halfWindowYears: number;
  /** Distance of the moments in years, at least one tick. Default one month. */
  readonly stepYears?: number;
  /** Causes counted as events; the others end follow-up. Default all. */
  readonly event?: readonly string[];
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
}

/** A group's hazard at moments whose whole window was followed. Parallel arrays. */
export interface SmoothedSteps {
  readonly time: readonly number[];
  readonly atRisk: readonly number[];
  /** Events of the cause inside the window. */
  readonly eventsInWindow: readonly number[];
  /** Events per unit-year. */
  readonly hazard: readonly number[];
  readonly standardError: readonly number[];
  readonly lower: readonly number[];
  readonly upper: readonly number[];
  readonly limits: readonly LimitSource[];
  /** Last moment whose window ends where the group's curves stop being drawn. */
  readonly drawnTo: DrawnTo;
}

export interface SmoothedHazard {
  readonly kind: "smoothedHazard";
  readonly settings: {
    readonly level: number;
    readonly event: readonly string[];
    readonly halfWindowYears: number;
    readonly stepTicks: number;
  };
  readonly timeUnit: TimeUnit;
  readonly groups: readonly {
    readonly group: string;
    readonly cases: number;
    readonly events: number;
    readonly smoothed: Answer<SmoothedSteps>;
  }[];
}

/**
 * How the hazard of an event rises and falls with time, smoothed over a window.
 *
 * Steps of the Nelson–Aalen estimate weighted by the Epanechnikov kernel K(x) = ¾ (1 − x²) over the window, with variance
 * Σ K² d / n²; limits on the log scale. Bias is not taken into account: inside the window the hazard counts as straight.
 * Moments whose window begins before the group was under observation, or ends after it, or touches a time with nobody
 * at risk, are left out: nothing is guessed at the edges. With no event in a window the upper limit is the exact one of a
 * hazard constant over it.
 *
 * @throws ArgumentError for sampling weights, whose variance needs rows, and for a window of less than one tick.
 *
 * Source: Ramlau-Hansen 1983; Klein and Moeschberger 2003, section 6.2.
 *
 * @example
 * const counts = countsByTime({ exit: [1, 2, 2, 3, 5], event: [1, 1, 0, 1, 0], timeUnit: TIME_UNITS.year });
 * smoothedHazard(counts, { halfWindowYears: 1 }).groups[0]; // in years 1, 2, 3: 0.15, 0.1875, 0.375
 */
export function smoothedHazard(counts: CountsByTime, options: SmoothedHazardOptions): SmoothedHazard {
  const { halfWindowYears, stepYears = 1 / 12, event = counts.causes, level = 0.95 } = options;
  requireLevel("smoothedHazard", level);
  requirePositive("smoothedHazard", "halfWindowYears", halfWindowYears);
  requirePositive("smoothedHazard", "stepYears", stepYears);
  const { wanted } = netRoles(counts.causes, eventIndexes("smoothedHazard", counts.causes, event));
  if (counts.weightKind === "sampling")
    throw new ArgumentError("smoothedHazard: sampling weights have no variance from counts");
  const halfWindow = halfWindowYears * counts.timeUnit.perYear;
  if (halfWindow < 1)
    throw new ArgumentError(`smoothedHazard: halfWindowYears lies within one ${counts.timeUnit.word}`);
  const stepTicks = Math.max(1, tickOfYear(stepYears, counts.timeUnit));
  return {
    kind: "smoothedHazard",
    settings: { level, event: [...event], halfWindowYears, stepTicks },
    timeUnit: counts.timeUnit,
    groups: counts.groups.map((group, place) => {
      const steps = riskSteps(counts, place);
      const eventsAt = eventsInRole(steps, wanted);
      const window = { halfWindow, stepTicks, level, timeUnit: counts.timeUnit };
      return {
        group,
        cases: steps.cases,
        events: eventsAt.reduce((sum, count) => sum + count, 0),
        smoothed: smoothedSteps(steps, eventsAt, window),
      };
    }),
  };
}

// Far more than a line can show; a step far too short for the follow-up would fill the memory.
const MOST_MOMENTS = 100_000;

interface Window {
  readonly halfWindow: number;
  readonly stepTicks: number;
  readonly level: number;
  readonly timeUnit: TimeUnit;
}

function smoothedSteps(steps: RiskSteps, eventsAt: Float64Array, window: Window): Answer<SmoothedSteps> {
  if (steps.time.length === 0) return notComputed("no-cases", `group ${steps.group} holds no case`);
  const stretches = wholeWindows(steps, window);
  const count = stretches.reduce((sum, { first, last }) => sum + Math.max(0, last - first + 1), 0);
  if (count > MOST_MOMENTS) {
    return notComputed(
      "too-many-moments",
      `over ${MOST_MOMENTS} moments lie in the follow-up of group ${steps.group}; give a larger stepYears`,
    );
  }
  const moments = stretches.flatMap(({ first, last }) =>
    Array.from({ length: Math.max(0, last - first + 1) }, (_, at) => (first + at) * window.stepTicks),
  );
  if (moments.length === 0) {
    return notComputed(
      "window-beyond-follow-up",
      `group ${steps.group} was not followed over one whole window`,
    );
  }
  const points = moments.map((tick) => hazardAt(tick, steps, eventsAt, window));
  return computed({
    time: moments,
    atRisk: moments.map((tick) => atRiskAt(steps.time, steps.shown.atRisk, tick)),
    eventsInWindow: points.map(({ events }) => events),
    hazard: points.map(({ hazard }) => hazard),
    standardError: points.map(({ standardError }) => standardError),
    lower: points.map(({ lower }) => lower),
    upper: points.map(({ upper }) => upper),
    limits: points.map(({ limits }) => limits),
    drawnTo: windowDrawnTo(steps, moments, window),
  });
}

/** The first and the last multiple of the step whose window lies within each stretch of follow-up. */
function wholeWindows({ time, atRisk }: RiskSteps, { halfWindow, stepTicks }: Window) {
  return followedStretches(time, atRisk).map(({ from, to }) => ({
    first: Math.ceil((from + halfWindow) / stepTicks),
    last: Math.floor((to - halfWindow) / stepTicks),
  }));
}

function hazardAt(
  tick: number,
  { time, atRisk }: RiskSteps,
  eventsAt: Float64Array,
  { halfWindow, level, timeUnit }: Window,
) {
  let [sum, squares, events, ticksAtRisk] = [0, 0, 0, 0];
  const [from, to] = [tick - halfWindow, tick + halfWindow];
  for (let step = stepsUpTo(time, Math.ceil(from) - 1); step < time.length; step += 1) {
    const [at, n, d] = [time[step] ?? 0, atRisk[step] ?? 0, eventsAt[step] ?? 0];
    // Since the step before as many were at risk as at this one.
    ticksAtRisk += n * Math.max(0, Math.min(at, to) - Math.max(step === 0 ? 0 : (time[step - 1] ?? 0), from));
    if (at > to) break;
    const x = (tick - at) / halfWindow;
    const weight = 0.75 * (1 - x * x);
    if (d === 0 || !(weight > 0)) continue;
    events += d;
    sum += (weight * d) / n;
    squares += (weight * weight * d) / (n * n);
  }
  const perYear = 1 / yearsOfTicks(halfWindow, timeUnit);
  const [hazard, standardError] = [sum * perYear, Math.sqrt(squares) * perYear];
  const tail = (1 - level) / 2;
  if (!(hazard > 0)) {
    const upper = -Math.log(tail) / yearsOfTicks(ticksAtRisk, timeUnit);
    return { events, hazard: 0, standardError: 0, lower: 0, upper, limits: "none seen" as const };
  }
  const factor = Math.exp((normalUpperQuantile(tail) * standardError) / hazard);
  return {
    events,
    hazard,
    standardError,
    lower: hazard / factor,
    upper: hazard * factor,
    limits: "variance" as const,
  };
}

function windowDrawnTo(
  { time, shown }: RiskSteps,
  moments: readonly number[],
  { halfWindow }: Window,
): DrawnTo {
  const stop = drawnTo(time, shown.atRisk);
  if (!stop.computed) return stop;
  const last = moments.findLast((tick) => tick + halfWindow <= stop.tick);
  return last === undefined
    ? notComputed("window-beyond-drawing", "no whole window lies where enough are at risk to draw")
    : computed({ tick: last, atRiskFloor: stop.atRiskFloor });
}
