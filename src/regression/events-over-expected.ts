import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import { normalUpperQuantile } from "../numeric/normal.ts";
import type { ObservationColumns } from "../survival/observations.ts";
import { coxResiduals } from "./cox-residuals.ts";
import type { CoxFit } from "./cox-result.ts";
import type { ModelMatrix } from "./model-matrix.ts";

export interface EventsOverExpectedOptions {
  /** A number of every observation row, finite where the row is in the model. */
  readonly values: ArrayLike<number>;
  /** Share of the events that each value is smoothed over, above 0 up to 1. Default 0.6. */
  readonly window?: number;
  /** At how many values, evenly over the events. Default 25. */
  readonly points?: number;
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
}

export interface ExcessAt {
  readonly value: number;
  readonly ratio: number;
  readonly lower: number;
  readonly upper: number;
}

export interface EventsOverExpected {
  readonly kind: "eventsOverExpected";
  readonly settings: {
    readonly window: number;
    readonly level: number;
    readonly variance: "independent rows";
  };
  readonly events: number;
  /** Events near each value over those the model expects there, values ascending. */
  readonly course: readonly ExcessAt[];
}

const FEWEST_EVENTS = 10;

/**
 * Whether a model has a number in the right form: events seen over events expected along it, both smoothed.
 *
 * Around each value the rows within reach of a share of the events are weighted by (1 − distance³)³; a model in the right
 * form gives about 1 everywhere. The pointwise interval is on the log scale and takes the weighted events as independent.
 * What is expected is what the row's martingale residual leaves of its event; copies count as often as they stand.
 *
 * Source: martingale residuals of Therneau, Grambsch and Fleming 1990; their smoothed ratio of Grambsch, Therneau and
 * Fleming 1995 (from memory).
 */
export function eventsOverExpected(
  observations: ObservationColumns,
  matrix: ModelMatrix,
  fit: CoxFit,
  options: EventsOverExpectedOptions,
): Answer<EventsOverExpected> {
  const { values, window = 0.6, points = 25, level = 0.95 } = options;
  requireLevel("eventsOverExpected", level);
  if (!(window > 0 && window <= 1))
    throw new ArgumentError("eventsOverExpected: window must lie above 0 and up to 1");
  if (!Number.isInteger(points) || points < 2)
    throw new ArgumentError("eventsOverExpected: points must be a whole number from 2 up");
  const residuals = coxResiduals(observations, matrix, fit);
  if (!residuals.computed) return residuals;
  const { rows, eventRows, martingale } = residuals;
  if (eventRows.length < FEWEST_EVENTS) {
    return notComputed("too-few-events", `fewer than ${FEWEST_EVENTS} events show no form`);
  }
  const isEvent = new Set(eventRows);
  const along = rows
    .map((row, at) => ({
      value: finite(values[row]),
      seen: isEvent.has(row) ? 1 : 0,
      expected: (isEvent.has(row) ? 1 : 0) - martingale[at]!,
      weight: observations.weight?.values[row] ?? 1,
    }))
    .sort((a, b) => a.value - b.value);
  const events = along.filter(({ seen }) => seen === 1);
  const total = events.reduce((sum, { weight }) => sum + weight, 0);
  const chosen = Array.from({ length: points }, (_, k) =>
    valueAt(events, Math.round((k * (total - 1)) / (points - 1))),
  );
  const reach = Math.max(2, Math.ceil(window * total));
  const half = normalUpperQuantile((1 - level) / 2);
  return computed({
    kind: "eventsOverExpected",
    settings: { window, level, variance: "independent rows" },
    events: total,
    course: [...new Set(chosen)].map((value) =>
      excessAt(along, value, distanceTo(events, value, reach), half),
    ),
  });
}

interface Along {
  readonly value: number;
  readonly seen: number;
  readonly expected: number;
  readonly weight: number;
}

/** Value of the event at a place among all, copies counted; values ascend. */
function valueAt(events: readonly Along[], place: number): number {
  let before = 0;
  const found = events.find(({ weight }) => {
    before += weight;
    return before > place;
  });
  return (found ?? events.at(-1)!).value;
}

/** How far the furthest of the nearest events is, copies counted. */
function distanceTo(events: readonly Along[], value: number, reach: number): number {
  const byDistance = events
    .map((event) => ({ far: Math.abs(event.value - value), weight: event.weight }))
    .sort((a, b) => a.far - b.far);
  let within = 0;
  const last = byDistance.find(({ weight }) => {
    within += weight;
    return within >= reach;
  });
  return (last ?? byDistance.at(-1)!).far * (1 + 1e-9);
}

function excessAt(along: readonly Along[], value: number, furthest: number, half: number): ExcessAt {
  let [seen, expected, squares] = [0, 0, 0];
  for (let at = firstFrom(along, value - furthest); at < along.length; at += 1) {
    const row = along[at]!;
    if (row.value > value + furthest) break;
    const share = furthest > 0 ? Math.abs(row.value - value) / furthest : 0;
    const rest = Math.max(0, 1 - share * share * share);
    const near = rest * rest * rest;
    seen += near * row.weight * row.seen;
    expected += near * row.weight * row.expected;
    squares += near * near * row.weight * row.seen;
  }
  // At the value itself stands an event, so both sums are above 0.
  const ratio = seen / expected;
  const spread = half * (Math.sqrt(squares) / seen);
  return { value, ratio, lower: ratio * Math.exp(-spread), upper: ratio * Math.exp(spread) };
}

/** Place of the first row at or above a value. */
function firstFrom(along: readonly Along[], value: number): number {
  let [low, high] = [0, along.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (along[middle]!.value < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

function finite(value: number | undefined): number {
  if (value !== undefined && Number.isFinite(value)) return value;
  throw new ArgumentError(
    "eventsOverExpected: a row in the model has no finite value; give one for every row",
  );
}
