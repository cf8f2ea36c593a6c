import type { Answer } from "../../base/answer.ts";
import { type TimeUnit, yearsOfTicks } from "../../base/time-unit.ts";
import type { ExhibitLine } from "../../disclosure/exhibit.ts";

interface Steps {
  readonly label: string;
  readonly style: number;
  readonly time: readonly number[];
  readonly value: readonly number[];
  readonly lower?: readonly (number | null)[];
  readonly upper?: readonly (number | null)[];
  readonly drawnTo: Answer<{ readonly tick: number }>;
}

/** A step line from 0 in years: only ticks at which the value moves, and the end. Without points where nothing is drawn. */
export function stepLine(steps: Steps, unit: TimeUnit): ExhibitLine {
  const { label, style, time, value, lower, upper, drawnTo } = steps;
  if (!drawnTo.computed) return { label, style, x: [], y: [] };
  const last = drawnTo.tick;
  const within = time.filter((tick) => tick <= last).length;
  const moves = Array.from({ length: within }, (_, at) => at).filter(
    (at) => value[at] !== (value[at - 1] ?? 0),
  );
  const end = within - 1;
  // The first step stands at 0 already where something happened on the first day.
  const startsLater = (time[moves[0] ?? 0] ?? 0) > 0;
  const along = <Value>(values: readonly Value[], start: Value): Value[] => [
    ...(startsLater ? [start] : []),
    ...[...moves, end].map((at) => values[at] ?? start),
  ];
  const ticks = [...(startsLater ? [0] : []), ...moves.map((at) => time[at] ?? 0), last];
  return {
    label,
    style,
    x: ticks.map((tick) => yearsOfTicks(tick, unit)),
    y: along(value, 0),
    ...(lower === undefined || upper === undefined
      ? {}
      : { low: along<number | null>(lower, null), high: along<number | null>(upper, null) }),
  };
}
