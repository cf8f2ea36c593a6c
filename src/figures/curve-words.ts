import { tickOfYear } from "../base/time-unit.ts";
import type { Cleared, ClearedCurve, ClearedCurves } from "../disclosure/cleared.ts";
import { drawnToYears, shareScale, yearCell } from "../disclosure/read-curve.ts";
import { type CurveLayout, drawableCurves } from "./curve-layout.ts";

/** Words on the value axis, with the limit: an axis that stops at 4 % must say so. */
export function axisTitle(exhibit: Cleared<ClearedCurves>, layout: CurveLayout): string {
  const { word } = shareScale(exhibit);
  const unit = word === "%" ? "%" : ` ${word}`;
  const space = word === "%" ? " " : "";
  return `${exhibit.valueLabel},${space || " "}${word} (axis ends at ${layout.values.limit}${space}${unit})`;
}

/** Where the curves stop and why, in one or more sentences. */
export function endNote(exhibit: Cleared<ClearedCurves>): string {
  const curves = drawableCurves(exhibit);
  const ends = [...new Set(curves.map((curve) => drawnToYears(curve, exhibit)))];
  const stop =
    ends.length === 1
      ? `Drawn to ${ends[0]} years: beyond, too few ${exhibit.unitWord} remain, or small counts would show.`
      : `Each line stops where too few ${exhibit.unitWord} remain or small counts would show: ${curves
          .map((curve) => `${curve.label} at ${drawnToYears(curve, exhibit)} years`)
          .join(", ")}.`;
  const drawn = new Set(curves.map(({ label }) => label));
  const without = exhibit.landmarks.filter(({ label }) => !drawn.has(label)).map(({ label }) => label);
  return without.length === 0 ? stop : `${stop} Too few to draw: ${without.join(", ")}.`;
}

/** Stands in the place of a picture that would be an empty frame. */
export function nothingToDraw(exhibit: Cleared<ClearedCurves>): string {
  return exhibit.curves.length === 0 && exhibit.landmarks.length === 0
    ? `No curve: no ${exhibit.unitWord} to follow.`
    : `No curve: too few ${exhibit.unitWord} or ${exhibit.eventWord} to draw one.`;
}

const LINES = { steps: "step curves", "joined points": "dots joined by straight lines," } as const;

/** The text alternative: question, then each group's values at the years of the table. */
export function curveDescription(exhibit: Cleared<ClearedCurves>): string {
  const curves = drawableCurves(exhibit);
  if (curves.length === 0) return `${exhibit.question} ${nothingToDraw(exhibit)}`;
  const { word } = shareScale(exhibit);
  const kind = exhibit.risk === "crude" ? "Crude risk" : "Net risk";
  const sentences = curves.map((curve) => curveSentence(curve, exhibit));
  return [
    exhibit.question,
    `${kind}, ${word}, with the limits of the interval; ${LINES[exhibit.drawing]} going up from 0.`,
    ...sentences,
    endNote(exhibit),
  ].join(" ");
}

function curveSentence(curve: ClearedCurve, exhibit: Cleared<ClearedCurves>): string {
  const atRisk = exhibit.landmarks.find(({ label }) => label === curve.label)?.atRisk;
  const values = exhibit.years.flatMap((year, at) => {
    if (year <= 0 || tickOfYear(year, exhibit.timeUnit) > curve.drawnTo) return [];
    return [`${yearCell(exhibit, curve.label, at).text} at ${year} ${year === 1 ? "year" : "years"}`];
  });
  const start = atRisk?.[0] === undefined ? "" : ` (${atRisk[0].text} at risk at ${exhibit.years[0]} years)`;
  const findings = values.length === 0 ? "no value at the years of the table" : values.join(", ");
  return `${curve.label}${start}: ${findings}.`;
}
