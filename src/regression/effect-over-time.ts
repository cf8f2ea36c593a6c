import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import { normalUpperQuantile } from "../numeric/normal.ts";
import type { ObservationColumns } from "../survival/observations.ts";
import { scaledSchoenfeld, schoenfeldOf } from "./cox-residuals.ts";
import type { CoxFit } from "./cox-result.ts";
import { coxState } from "./cox-state.ts";
import { eventTimeScale } from "./event-time-scale.ts";
import type { ModelMatrix } from "./model-matrix.ts";

export interface EffectOverTimeOptions {
  readonly column: string;
  /** Share of the events that each value is smoothed over, above 0 up to 1. Default 0.6. */
  readonly window?: number;
  /** How many ticks the effect is given at, evenly over the events. Default 30. */
  readonly points?: number;
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
}

export interface EffectAt {
  readonly tick: number;
  readonly logRatio: number;
  readonly ratio: number;
  readonly lower: number;
  readonly upper: number;
}

export interface EffectOverTime {
  readonly kind: "effectOverTime";
  readonly column: string;
  readonly settings: { readonly window: number; readonly level: number; readonly variance: "model" };
  /** The ratio of the fit, constant over time. */
  readonly average: number;
  readonly effect: readonly EffectAt[];
}

const FEWEST_EVENTS = 10;

/**
 * How the hazard ratio of a column goes over time: scaled Schoenfeld residuals, smoothed.
 *
 * At each tick a straight line is fitted to the residuals of the nearest events, nearness measured by Kaplan–Meier survival and
 * weighted by (1 − distance³)³. The pointwise interval takes each residual to vary by events · the model's variance of the
 * coefficient. It is a picture for the eye: the test is `proportionalHazardsCheck`.
 *
 * Source: Grambsch and Therneau 1994; local lines as in Cleveland 1979.
 */
export function effectOverTime(
  observations: ObservationColumns,
  matrix: ModelMatrix,
  fit: CoxFit,
  options: EffectOverTimeOptions,
): Answer<EffectOverTime> {
  const { column, window = 0.6, points = 30, level = 0.95 } = options;
  requireLevel("effectOverTime", level);
  if (!(window > 0 && window <= 1))
    throw new ArgumentError("effectOverTime: window must lie above 0 and up to 1");
  if (!Number.isInteger(points) || points < 2)
    throw new ArgumentError("effectOverTime: points must be a whole number from 2 up");
  const set = coxState("effectOverTime", observations, matrix, fit);
  if (!set.computed) return set;
  const { state } = set;
  const at = state.columns.findIndex(({ name }) => name === column);
  if (at < 0) throw new ArgumentError(`effectOverTime: the fit has no coefficient of "${column}"`);
  const { eventRows, exitCell, cells } = state.rows;
  if (eventRows.length < FEWEST_EVENTS) {
    return notComputed("too-few-events", `fewer than ${FEWEST_EVENTS} events show no course over time`);
  }
  const time = eventTimeScale(state.rows, "survival");
  if (!time.computed) return time;
  const residual = scaledSchoenfeld(state, schoenfeldOf(state))[at]!;
  const events = Array.from(eventRows, (i, place) => ({
    tick: cells.tick[exitCell[i]!]!,
    x: time.factor[exitCell[i]!]!,
    y: residual[place]!,
  })).sort((a, b) => a.x - b.x);
  const { scale } = state.columns[at]!;
  const spread = Math.sqrt(events.length * state.inverse[at]![at]!) / scale;
  const reach = Math.max(2, Math.ceil(window * events.length));
  const half = normalUpperQuantile((1 - level) / 2) * spread;
  const chosen = Array.from({ length: points }, (_, k) =>
    Math.round((k * (events.length - 1)) / (points - 1)),
  );
  const average = Math.exp(state.beta[at]! / scale);
  const ticks = [...new Map(chosen.map((place) => [events[place]!.tick, events[place]!.x]))];
  const effect = ticks.map(([tick, x]) => {
    const { value, length } = localLine(events, x, reach);
    return {
      tick,
      logRatio: value,
      ratio: Math.exp(value),
      lower: Math.exp(value - half * length),
      upper: Math.exp(value + half * length),
    };
  });
  if (![average, ...effect.flatMap(({ ratio, upper }) => [ratio, upper])].every(Number.isFinite)) {
    return notComputed(
      "too-large",
      "a ratio or its limit is too large a number to write; measure the column in other units",
    );
  }
  return computed({
    kind: "effectOverTime",
    column,
    settings: { window, level, variance: "model" },
    average,
    effect,
  });
}

/** Value at x of a weighted line through the nearest points, and the length of the weights it gives them. */
function localLine(points: readonly { readonly x: number; readonly y: number }[], x: number, reach: number) {
  const distances = points.map((point) => Math.abs(point.x - x));
  const furthest = Float64Array.from(distances).sort()[reach - 1]! * (1 + 1e-9);
  const weight = distances.map((distance) => {
    const share = furthest > 0 ? distance / furthest : 0;
    const rest = Math.max(0, 1 - share * share * share);
    return rest * rest * rest;
  });
  let [s0, s1, s2] = [0, 0, 0];
  points.forEach((point, at) => {
    const [w, d] = [weight[at]!, point.x - x];
    s0 += w;
    s1 += w * d;
    s2 += w * d * d;
  });
  const determinant = s0 * s2 - s1 * s1;
  const isLine = determinant > 1e-12 * s0 * s2;
  let [value, squares] = [0, 0];
  points.forEach((point, at) => {
    const own = isLine ? (weight[at]! * (s2 - s1 * (point.x - x))) / determinant : weight[at]! / s0;
    value += own * point.y;
    squares += own * own;
  });
  return { value, length: Math.sqrt(squares) };
}
