import { clearAtRisk, enterAtRisk } from "./at-risk.ts";
import { clearCount } from "./cell.ts";
import type { ClearedCell, ClearedCurves, ClearedLandmarks } from "./cleared.ts";
import type { Clearing } from "./clearing.ts";
import { curveNotes } from "./curve-notes.ts";
import { type CurvePlan, countList, type Standing, standingCounts } from "./curve-plan.ts";
import { type DrawnCurve, drawCurve, drawingFor } from "./curve-steps.ts";
import type { CurveExhibit } from "./exhibit.ts";
import { drawAsBefore } from "./held/draw-as-before.ts";
import { AS_BEFORE_NOTE } from "./held/mark.ts";
import { type LandmarkRow, landmarkPlace } from "./held/places.ts";
import { balance, enter, enterUnnamed, type Ledger } from "./ledger.ts";

/** A curve's end counts less than a printed year: it is the line that gives way. */
const PLACES_OF_CURVE_END = 0.5;

/**
 * Notes the counts beneath the curves, and those that the lines themselves tell.
 *
 * Without delayed entry, at each year: units = at risk + events + those who left otherwise.
 */
export function enterCurves(ledger: Ledger, plans: readonly CurvePlan[]): void {
  for (const plan of plans) {
    for (const at of plan.landmarks) enterStanding(ledger, plan, at);
    if (plan.notDrawn === undefined && plan.last !== undefined && plan.last.tick > 0) {
      enter(ledger, standingCounts(plan, plan.last).events, PLACES_OF_CURVE_END);
    }
  }
}

/** The curves as the ledger's readers may see them. */
export function clearCurves(
  clearing: Clearing,
  exhibit: CurveExhibit,
  plans: readonly CurvePlan[],
): ClearedCurves {
  const { id, title, question, risk, valueLabel, eventWord, unitWord, timeUnit } = exhibit;
  const { ledger, before } = clearing;
  const counts = new Map(ledger.entries.map(({ key, units }) => [key, units]));
  const drawn = plans.map(
    (plan) =>
      drawAsBefore(clearing, plan) ??
      drawCurve(ledger, plan, timeUnit, before.mayPoint(`events/${plan.curve.key}`, counts)),
  );
  for (const curve of drawn) noteDrawing(clearing, curve);
  const years = exhibit.years.slice(0, Math.max(0, ...plans.map((plan) => plan.landmarks.length)));
  const landmarks = plans
    .filter((plan) => plan.end !== undefined)
    .map((plan) => clearLandmarks(clearing, plan, years.length));
  return {
    kind: "curves",
    id,
    title,
    question,
    risk,
    valueLabel,
    eventWord,
    unitWord,
    timeUnit,
    years,
    drawing: drawingFor(clearing.ledger.threshold),
    curves: drawn.flatMap(({ curve }) => curve ?? []),
    landmarks,
    notes: [
      ...(exhibit.notes ?? []),
      ...curveNotes(exhibit, drawn, clearing.ledger.threshold),
      ...asBeforeNotes(landmarks, drawn),
    ],
    settings: exhibit.settings ?? {},
  };
}

function enterStanding(ledger: Ledger, plan: CurvePlan, at: Standing): void {
  const atRisk = enterAtRisk(ledger, plan, at);
  // At the start nothing has happened yet: the zeros there tell nothing.
  if (at.tick === 0) return;
  const happened = countList(standingCounts(plan, at)).map((count) => enter(ledger, count, 1));
  for (const left of happened.slice(1)) left.rank = "left otherwise";
  if (plan.delayedEntry) return;
  atRisk.rank = "at risk";
  balance(ledger, enterUnnamed(ledger, plan.groupKey, plan.curve.units), [atRisk, ...happened]);
}

function clearLandmarks(clearing: Clearing, plan: CurvePlan, years: number): ClearedLandmarks {
  const row = (cellAt: (at: Standing) => ClearedCell) => {
    const cells = plan.landmarks.map(cellAt);
    return [...cells, ...Array.from({ length: years - cells.length }, () => BEYOND_END)];
  };
  const place = (what: LandmarkRow, { year }: Standing) => landmarkPlace(plan.curve.label, what, year);
  const hasCompeting = plan.curve.competingAt !== undefined;
  return {
    label: plan.curve.label,
    style: plan.curve.style,
    atRisk: row((at) => clearAtRisk(clearing, plan, at)),
    events: row((at) => clearCount(clearing, standingCounts(plan, at).events, place("events", at))),
    censored: row((at) => clearCount(clearing, standingCounts(plan, at).censored, place("censored", at))),
    ...(hasCompeting ? { competing: row((at) => clearCompeting(clearing, plan, at)) } : {}),
  };
}

function clearCompeting(clearing: Clearing, plan: CurvePlan, at: Standing): ClearedCell {
  const { competing } = standingCounts(plan, at);
  return competing === undefined
    ? BEYOND_END
    : clearCount(clearing, competing, landmarkPlace(plan.curve.label, "competing", at.year));
}

/** Lines are marked in the note alone: there is no place for a mark in a picture of them. */
function asBeforeNotes(landmarks: readonly ClearedLandmarks[], drawn: readonly DrawnCurve[]): string[] {
  const lines = drawn.flatMap(({ label, curve }) => (curve?.asBefore ? [label] : []));
  if (lines.length === 0 && !hasBefore(landmarks)) return [];
  return [lines.length === 0 ? AS_BEFORE_NOTE : `${AS_BEFORE_NOTE} So is the line: ${lines.join(", ")}.`];
}

function hasBefore(landmarks: readonly ClearedLandmarks[]): boolean {
  return landmarks.some(({ atRisk, events, censored, competing = [] }) =>
    [...atRisk, ...events, ...censored, ...competing].some((cell) => cell.asBefore),
  );
}

function noteDrawing({ note }: Clearing, { curve, notDrawn, cut, stepsMerged }: DrawnCurve): void {
  if (curve?.asBefore) note("before");
  if (notDrawn === "too few events" || notDrawn === "table only" || notDrawn === "size hidden")
    note("notDrawn");
  if (cut) note("cut");
  if (stepsMerged > 0) note("merged", stepsMerged);
}

/** A year after the group's curve has ended. */
const BEYOND_END: ClearedCell = { text: "–", values: [], hidden: false };
