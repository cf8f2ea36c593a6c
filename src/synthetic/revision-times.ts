import { TIME_UNITS } from "../base/time-unit.ts";
import type { Operations } from "./operations.ts";
import {
  CAUSES,
  type Cause,
  EFFECT_WINDOW_ENDS,
  OTHER_REASON_SHARES,
  type PlantedEffect,
  type PlantedTruth,
  REASONS,
} from "./planted-truth.ts";
import { exponentialDraws, filled, type RandomStreams, shareDraws } from "./random-draws.ts";
import type { Surgeons } from "./surgeons.ts";
import { DONE, NOT_DONE, type Technique } from "./technique-choice.ts";
import { SYNTHETIC_STEPS } from "./technique-steps.ts";

/** Later than anybody lives: where a hazard of zero leads. */
export const NEVER_DAYS = 1_000_000;

/** When each knee would be revised, had nobody died or left. */
export interface RevisionTimes {
  /** Days from the operation to revision for this cause, were there no other cause. */
  readonly netDays: Readonly<Record<Cause, Int32Array>>;
  /** The first of them, and its true reason as place in `REASONS`. */
  readonly days: Int32Array;
  readonly reason: Uint8Array;
}

/**
 * Draws net times to revision.
 *
 * Hazard of a cause = planted net hazard × effects ÷ their population mean × surgeon frailty × patient frailty.
 * The mean is taken over the planted shares of each step and both frailties have mean 1, so that the
 * population keeps the planted net hazards in every period. Those revised early take some frailty with
 * them, which lowers the hazards of those left: by 2 to 3 % after fifteen years, the frailties' variance (0.45)
 * times the share revised.
 */
export function drawRevisionTimes(
  operations: Operations,
  surgeons: Surgeons,
  technique: Technique,
  planted: PlantedTruth,
  streams: RandomStreams,
): RevisionTimes {
  const { knees, patient, surgeon } = operations;
  const frailty = filled(new Float64Array(knees), (row) => {
    return (operations.frailty[patient[row] ?? 0] ?? 1) * (surgeons.frailty[surgeon[row] ?? 0] ?? 1);
  });
  const draw = (cause: Cause) => netDays(cause, frailty, technique, planted, streams);
  const net = { infection: draw("infection"), loosening: draw("loosening"), other: draw("other") };
  return { netDays: net, ...firstRevision(net, streams) };
}

function netDays(
  cause: Cause,
  frailty: Float64Array,
  technique: Technique,
  planted: PlantedTruth,
  streams: RandomStreams,
): Int32Array {
  const exponential = exponentialDraws(streams.stream(`revision.${cause}`));
  const effects = planted.effects.filter((effect) => effect.cause === cause);
  const periods = hazardPeriods(cause, planted);
  const means = EFFECT_WINDOWS.map((window) => meanEffect(effects, window));
  const factors = new Float64Array(EFFECT_WINDOWS.length);
  const column = new Int32Array(frailty.length);
  for (let row = 0; row < column.length; row++) {
    for (const window of EFFECT_WINDOWS) {
      let factor = (frailty[row] ?? 1) / (means[window] ?? 1);
      for (const effect of effects) {
        const state = effect.state === "done" ? DONE : NOT_DONE;
        if (technique.state[effect.step][row] === state) factor *= effect.hazardRatios[window] ?? 1;
      }
      factors[window] = factor;
    }
    column[row] = daysAt(exponential(), periods, factors);
  }
  return column;
}

const EFFECT_WINDOWS = [0, 1, 2] as const;

/** Mean factor of the effects in a window over knees that choose each step with its planted share. */
export function meanEffect(effects: readonly PlantedEffect[], window: 0 | 1 | 2): number {
  return effects.reduce((mean, { step, state, hazardRatios }) => {
    const done = SYNTHETIC_STEPS.find((spec) => spec.step === step)?.prevalence ?? 0;
    const share = state === "done" ? done : 1 - done;
    return mean * (1 + share * (hazardRatios[window] - 1));
  }, 1);
}

interface HazardPeriod {
  readonly perYear: number;
  readonly years: number;
  readonly window: number;
}

/** Hazard periods cut at the ends of the effect windows, so that each lies in one window. */
function hazardPeriods(cause: Cause, { netHazards }: PlantedTruth): readonly HazardPeriod[] {
  const { periodEnds, per1000 } = netHazards;
  const ends = [...new Set([...periodEnds, ...EFFECT_WINDOW_ENDS])].sort((a, b) => a - b);
  return [...ends, Number.POSITIVE_INFINITY].map((end, place) => {
    const start = ends[place - 1] ?? 0;
    const period = periodEnds.filter((limit) => limit <= start).length;
    const window = EFFECT_WINDOW_ENDS.filter((limit) => limit <= start).length;
    return { perYear: (per1000[cause][period] ?? 0) / 1000, years: end - start, window };
  });
}

/** Day on which the cumulative hazard reaches `amount`. Days are counted up: the first is 1. */
function daysAt(amount: number, periods: readonly HazardPeriod[], factors: Float64Array): number {
  let left = amount;
  let years = 0;
  for (const period of periods) {
    const perYear = period.perYear * (factors[period.window] ?? 1);
    if (perYear > 0 && left <= perYear * period.years) {
      const days = Math.ceil((years + left / perYear) * TIME_UNITS.day.perYear);
      return Math.min(Math.max(1, days), NEVER_DAYS);
    }
    if (perYear > 0) left -= perYear * period.years;
    years += period.years;
  }
  return NEVER_DAYS;
}

function firstRevision(net: RevisionTimes["netDays"], streams: RandomStreams) {
  const otherReason = shareDraws(
    streams.stream("revision.otherReason"),
    OTHER_REASON_SHARES.map(([, share]) => share),
  );
  const others = OTHER_REASON_SHARES.map(([reason]) => REASONS.indexOf(reason));
  const fixed = { infection: REASONS.indexOf("infection"), loosening: REASONS.indexOf("loosening") };
  const days = new Int32Array(net.other.length);
  const reason = new Uint8Array(net.other.length);
  for (let row = 0; row < days.length; row++) {
    const other = others[otherReason()] ?? 0;
    // On one day infection goes before loosening before the rest, as in a file with several reasons ticked.
    const first = CAUSES.reduce((best, cause) => (day(net, cause, row) < day(net, best, row) ? cause : best));
    days[row] = day(net, first, row);
    reason[row] = first === "other" ? other : fixed[first];
  }
  return { days, reason };
}

function day(net: RevisionTimes["netDays"], cause: Cause, row: number): number {
  return net[cause][row] ?? NEVER_DAYS;
}
