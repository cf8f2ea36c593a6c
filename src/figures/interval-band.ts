import * as Plot from "@observablehq/plot";

/** How Plot joins what stands at two places. */
export const JOINS = { steps: "step-after", "joined points": "linear" } as const;

export interface BandPoint {
  readonly x: number;
  readonly low: number;
  readonly high: number;
}

/** A shaded interval whose edges keep overlapping bands apart, on screen and in grey. */
export function intervalBand(
  points: readonly BandPoint[],
  {
    colour,
    join,
    opacity,
  }: { readonly colour: string; readonly join: keyof typeof JOINS; readonly opacity: number },
) {
  const curve = JOINS[join];
  return [
    Plot.areaY(points, { x: "x", y1: "low", y2: "high", curve, fill: colour, fillOpacity: opacity }),
    ...(["low", "high"] as const).map((edge) =>
      Plot.lineY(points, { x: "x", y: edge, curve, stroke: colour, strokeWidth: 0.7, strokeOpacity: 0.6 }),
    ),
  ];
}
