import * as Plot from "@observablehq/plot";
import { fixed } from "../base/display.ts";
import { yearsOfTicks } from "../base/time-unit.ts";
import type { Cleared, ClearedCurve, ClearedCurves } from "../disclosure/cleared.ts";
import { shareScale } from "../disclosure/read-curve.ts";
import { cleanPlot } from "./clean-plot.ts";
import { type CurveLayout, drawableCurves } from "./curve-layout.ts";
import { type BandPoint, intervalBand, JOINS } from "./interval-band.ts";
import { lineStyle } from "./line-style.ts";
import { plotFrame } from "./plot-frame.ts";
import type { SvgDocument, SvgNode } from "./svg-document.ts";

const DOT_RADIUS = 3.2;

/** Axes, interval bands and lines, without words; joined points get a dot each. */
export function curvePlot(
  document: SvgDocument,
  exhibit: Cleared<ClearedCurves>,
  layout: CurveLayout,
  height: number,
  factor = shareScale(exhibit).factor,
): SvgNode {
  const curves = drawableCurves(exhibit);
  const plot = Plot.plot({
    ...plotFrame(document, layout, height),
    x: { domain: [0, layout.yearsEnd], type: "linear", axis: null },
    y: { domain: [0, layout.values.limit], type: "linear", axis: null },
    marks: [
      ...axes(layout),
      ...curves.flatMap((curve) => bandMarks(curve, exhibit, factor)),
      ...curves.map((curve) => lineMark(curve, exhibit, factor)),
      ...(exhibit.drawing === "joined points" ? curves.map((curve) => dotMark(curve, exhibit, factor)) : []),
    ],
  });
  return cleanPlot(document, plot as unknown as SvgNode);
}

function axes(layout: CurveLayout) {
  const { ticks } = layout.values;
  const decimals = Math.max(...ticks.map(decimalsOf));
  // Never Plot's own format: it would write the year 2015 as 2,015.
  const yearText = (year: number) => fixed(year, decimalsOf(year));
  return [
    Plot.gridY(ticks, { stroke: "#dedad2", strokeOpacity: 1 }),
    Plot.axisY([...ticks], { tickSize: 0, label: null, tickFormat: (tick: number) => fixed(tick, decimals) }),
    Plot.ruleY([0], { stroke: "#3a4247" }),
    Plot.axisX(
      layout.ticks.map(({ year }) => year),
      { tickSize: 5, label: null, tickFormat: yearText },
    ),
  ];
}

function decimalsOf(value: number): number {
  return (String(value).split(".")[1] ?? "").length;
}

function lineMark(curve: ClearedCurve, exhibit: Cleared<ClearedCurves>, factor: number) {
  const { colour, dashes, width } = lineStyle(curve.style);
  // A tick at which only somebody left moves nothing: most ticks of an analyst's curve are such.
  const points = curve.time.flatMap((time, step) =>
    exhibit.drawing === "steps" && !rises(curve, step)
      ? []
      : [{ time, value: factor * (curve.value[step] ?? 0) }],
  );
  // What holds last holds to where the curve ends.
  const last = points.at(-1);
  if (last !== undefined) points.push({ time: curve.drawnTo, value: last.value });
  return Plot.lineY(points, {
    x: ({ time }: { time: number }) => yearsOfTicks(time, exhibit.timeUnit),
    y: "value",
    curve: JOINS[exhibit.drawing],
    stroke: colour,
    strokeWidth: width,
    strokeLinecap: "butt",
    ...(dashes === undefined ? {} : { strokeDasharray: dashes }),
  });
}

function rises({ value }: ClearedCurve, step: number): boolean {
  return value[step] !== value[step - 1];
}

/** A dot where the line was estimated, not where it only runs level to a year of the table. */
function dotMark(curve: ClearedCurve, exhibit: Cleared<ClearedCurves>, factor: number) {
  const points = curve.time.flatMap((time, step) =>
    step > 0 && rises(curve, step) ? [{ time, value: factor * (curve.value[step] ?? 0) }] : [],
  );
  return Plot.dot(points, {
    x: ({ time }: { time: number }) => yearsOfTicks(time, exhibit.timeUnit),
    y: "value",
    r: DOT_RADIUS,
    fill: lineStyle(curve.style).colour,
    stroke: "#ffffff",
    strokeWidth: 0.8,
  });
}

function bandMarks(curve: ClearedCurve, exhibit: Cleared<ClearedCurves>, factor: number) {
  const { colour } = lineStyle(curve.style);
  return bandRuns(curve, exhibit, factor).flatMap((points) =>
    intervalBand(points, { colour, join: exhibit.drawing, opacity: 0.13 }),
  );
}

/** Stretches over which both limits are defined; each ends where its last step ends. */
function bandRuns(curve: ClearedCurve, exhibit: Cleared<ClearedCurves>, factor: number): BandPoint[][] {
  const runs: BandPoint[][] = [];
  let open: BandPoint[] = [];
  for (const [step, time] of curve.time.entries()) {
    const limits = limitsAt(curve, step, factor);
    const last = open.at(-1);
    const moves =
      limits !== undefined &&
      (exhibit.drawing === "joined points" || last?.low !== limits.low || last.high !== limits.high);
    if (moves) open.push({ x: yearsOfTicks(time, exhibit.timeUnit), ...limits });
    const next = step + 1 < curve.time.length ? limitsAt(curve, step + 1, factor) : undefined;
    if (limits === undefined || next !== undefined) continue;
    // Nothing carries the band on: it stops where this step ends.
    const end = curve.time[step + 1] ?? curve.drawnTo;
    runs.push([...open, { x: yearsOfTicks(end, exhibit.timeUnit), ...limits }]);
    open = [];
  }
  return runs;
}

function limitsAt(curve: ClearedCurve, step: number, factor: number) {
  const [low, high] = [curve.low[step] ?? null, curve.high[step] ?? null];
  return low === null || high === null ? undefined : { low: factor * low, high: factor * high };
}
