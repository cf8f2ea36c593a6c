import { fixed } from "../base/display.ts";
import { yearsOfTicks } from "../base/time-unit.ts";
import type { DrawnCurve } from "./curve-steps.ts";
import type { CurveExhibit } from "./exhibit.ts";

/** What was done to the curves, in the words under the figure. */
export function curveNotes(exhibit: CurveExhibit, drawn: readonly DrawnCurve[], threshold: number): string[] {
  const notes = drawn.flatMap((curve) => noteOf(exhibit, curve));
  if (threshold > 0 && drawn.some(({ curve }) => curve !== undefined)) {
    notes.push(
      `Each dot holds at least ${threshold} ${exhibit.eventWord}; the line and the band between dots are only a guide.`,
    );
  }
  if (threshold > 0) {
    notes.push(
      "≈: a number so far is hidden there, so the number at risk is worked out without it and rounded: it may be a few off, or is hidden too.",
    );
  }
  return notes;
}

function noteOf(
  { eventWord, unitWord, timeUnit }: CurveExhibit,
  { label, curve, notDrawn, cut }: DrawnCurve,
): string[] {
  switch (notDrawn) {
    case "group too small":
      return [`${label}: the group is too small for a curve.`];
    case "too few events":
      return [`${label}: too few ${eventWord} to draw.`];
    case "size hidden":
      return [`${label}: not drawn, because how many ${unitWord} it holds is hidden.`];
    case "table only":
      return [`${label}: too few ${eventWord} for a curve outside the unit; see the numbers by year.`];
    case undefined: {
      if (curve?.asBefore) return [];
      if (!cut || curve === undefined) return [];
      const years = fixed(yearsOfTicks(curve.drawnTo, timeUnit), 1);
      return [
        `${label}: the line stops at ${years} years; to show the ${eventWord} after that would give a small count away.`,
      ];
    }
  }
}
