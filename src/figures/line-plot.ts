import * as Plot from "@observablehq/plot";
import type { ClearedLines } from "../disclosure/cleared.ts";
import { cleanPlot } from "./clean-plot.ts";
import { type BandPoint, intervalBand, JOINS } from "./interval-band.ts";
import { drawableLines, type Line, type LineLayout } from "./line-layout.ts";
import { lineStyle } from "./line-style.ts";
import { plotFrame } from "./plot-frame.ts";
import type { SvgDocument, SvgNode } from "./svg-document.ts";

/** Axes, interval bands and lines, without words. */
export function linePlot(
  document: SvgDocument,
  exhibit: ClearedLines,
  layout: LineLayout,
  height: number,
): SvgNode {
  const lines = drawableLines(exhibit);
  const plot = Plot.plot({
    ...plotFrame(document, layout, height),
    x: { domain: [layout.acrossFrom, layout.acrossEnd], type: "linear", axis: null },
    y: {
      // Ratios by their logarithm: Plot's own logarithmic axis leaves labels out.
      domain: [layout.height(layout.up.from), layout.height(layout.up.to)],
      type: "linear",
      axis: null,
    },
    marks: [
      ...axes(exhibit, layout),
      ...lines.flatMap((line) => bandMarks(line, exhibit, layout)),
      ...lines.map((line) => lineMark(line, exhibit, layout)),
    ],
  });
  return cleanPlot(document, plot as unknown as SvgNode);
}

function axes({ scale }: ClearedLines, { up, acrossTicks, height }: LineLayout) {
  const heights = up.ticks.map(height);
  return [
    Plot.gridY(heights, { stroke: "#dedad2", strokeOpacity: 1 }),
    // Never Plot's own format: it follows a locale.
    Plot.axisY(heights, {
      tickSize: 0,
      label: null,
      tickFormat: (at: number) => String(up.ticks[heights.indexOf(at)] ?? ""),
    }),
    Plot.ruleY([height(scale === "ratio" ? 1 : 0)], { stroke: "#3a4247" }),
    Plot.axisX([...acrossTicks], { tickSize: 5, label: null, tickFormat: String }),
  ];
}

function lineMark(line: Line, { drawing, of }: ClearedLines, { height }: LineLayout) {
  const { colour, dashes, width } = lineStyle(line.style, of);
  return Plot.lineY(
    line.x.map((x, at) => ({ x, y: height(line.y[at] ?? 0), piece: line.pieces ? Math.floor(at / 2) : 0 })),
    {
      x: "x",
      y: "y",
      z: "piece",
      curve: JOINS[drawing],
      stroke: colour,
      strokeWidth: line.thin ? 1.1 : width,
      strokeLinecap: "butt",
      ...(dashes === undefined ? {} : { strokeDasharray: dashes }),
    },
  );
}

function bandMarks(line: Line, { drawing, of }: ClearedLines, { height }: LineLayout) {
  const { colour } = lineStyle(line.style, of);
  if (line.pieces) return [whiskers(line, colour, height)];
  return bandRuns(line).flatMap((run) => {
    const points = run.map(({ x, low, high }) => ({ x, low: height(low), high: height(high) }));
    return intervalBand(points, { colour, join: drawing, opacity: line.share ? 0.45 : 0.13 });
  });
}

/** The limits of each piece, upright in its middle. */
function whiskers({ x, low, high }: Line, stroke: string, height: (value: number) => number) {
  const limits = x.flatMap((from, at) => {
    const [to, below, above] = [x[at + 1], low[at] ?? null, high[at] ?? null];
    if (at % 2 === 1 || to === undefined || below === null || above === null) return [];
    return [{ x: (from + to) / 2, low: height(below), high: height(above) }];
  });
  return Plot.ruleX(limits, { x: "x", y1: "low", y2: "high", stroke, strokeWidth: 1.1 });
}

/** Stretches over which both limits are defined. */
function bandRuns({ x, low, high }: Line): BandPoint[][] {
  const runs: BandPoint[][] = [];
  let open: BandPoint[] = [];
  x.forEach((across, at) => {
    const [below, above] = [low[at] ?? null, high[at] ?? null];
    if (below !== null && above !== null) open.push({ x: across, low: below, high: above });
    else if (open.length > 0) {
      runs.push(open);
      open = [];
    }
  });
  return open.length > 0 ? [...runs, open] : runs;
}
