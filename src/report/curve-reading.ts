import type { Cleared, ClearedCurves } from "../disclosure/cleared.ts";
import { shareScale } from "../disclosure/read-curve.ts";
import type { PlotArea } from "./block.ts";

/** What the page's script needs to read a figure's curves off at a day: nothing that the figure does not show. */
export function curveReading(exhibit: Cleared<ClearedCurves>, plot: PlotArea): string {
  const { factor, word } = shareScale(exhibit);
  const isJoined = exhibit.drawing === "joined points";
  const { word: unit, perYear } = exhibit.timeUnit;
  return JSON.stringify({
    ...plot,
    factor,
    decimals: factor === 1000 ? 1 : 2,
    word,
    unit,
    perYear,
    end: Math.max(0, ...exhibit.curves.map(({ drawnTo }) => drawnTo)),
    joined: isJoined,
    curves: exhibit.curves.map(({ label, time, value, low, high, drawnTo }) => {
      // Steps only where something moves; a level stretch between joined points needs the point at its end.
      const kept = time.flatMap((_, at) =>
        isJoined ||
        at === 0 ||
        value[at] !== value[at - 1] ||
        low[at] !== low[at - 1] ||
        high[at] !== high[at - 1]
          ? [at]
          : [],
      );
      const pick = <Item>(items: readonly Item[]) => kept.map((at) => items[at] ?? null);
      const landmarks = exhibit.landmarks.find((row) => row.label === label);
      return {
        label,
        time: pick(time),
        value: pick(value),
        low: pick(low),
        high: pick(high),
        drawnTo,
        years: exhibit.years,
        atRisk: (landmarks?.atRisk ?? []).map(({ text }) => text),
      };
    }),
  });
}
