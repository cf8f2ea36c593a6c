import { requiredDayNumber, yearOfDay } from "../base/day-number.ts";
import { RECORDED_STATES, type RecordedState } from "../cases/recorded-state.ts";
import type { TechniqueStep } from "../cases/roles.ts";
import { normalLower, normalUpperQuantile } from "../numeric/normal.ts";
import type { Operations } from "./operations.ts";
import { FIRST_OPERATION_DATE, LAST_OPERATION_DATE } from "./planted-truth.ts";
import { filled, type RandomStreams, shareDraws } from "./random-draws.ts";
import type { Surgeons } from "./surgeons.ts";
import { SCLEROSIS_SHARES, SYNTHETIC_STEPS, type SyntheticStep } from "./technique-steps.ts";

/** Technique as it was done, whatever the file says. */
export interface Technique {
  /** Place in `SCLEROSIS_SHARES`, by knee. */
  readonly sclerosis: Uint8Array;
  /** Place in `RECORDED_STATES`, by knee: done, not done or not applicable. */
  readonly state: Readonly<Record<TechniqueStep, Uint8Array>>;
}

export const DONE = placeOf("done");
export const NOT_DONE = placeOf("notDone");
export const NOT_APPLICABLE = placeOf("notApplicable");

const FIRST_YEAR = yearOfDay(requiredDayNumber(FIRST_OPERATION_DATE, "FIRST_OPERATION_DATE"));
const LAST_YEAR = yearOfDay(requiredDayNumber(LAST_OPERATION_DATE, "LAST_OPERATION_DATE"));
const YEARS = LAST_YEAR - FIRST_YEAR + 1;

/**
 * Draws what was done in each knee.
 *
 * A step is done where √likeness × the chooser's score + √(1 − likeness) × the knee's own score, both
 * standard normal, lies below the normal quantile of that year's share. The share done is then the planted
 * one whatever the likeness. Choices do not depend on patient, frailty or one another.
 */
export function drawTechnique(operations: Operations, surgeons: Surgeons, streams: RandomStreams): Technique {
  const drawSclerosis = shareDraws(
    streams.stream("knee.sclerosis"),
    SCLEROSIS_SHARES.map(([, , share]) => share),
  );
  const sclerosis = filled(new Uint8Array(operations.knees), drawSclerosis);
  const year = filled(
    new Uint8Array(operations.knees),
    (row) => yearOfDay(operations.operationDay[row] ?? 0) - FIRST_YEAR,
  );
  const scores = {
    surgeon: evenScores(surgeons.count),
    centre: evenScores(surgeons.centres),
  };
  const state = (spec: SyntheticStep): Uint8Array => {
    const chance = chances(spec, shuffled(scores[spec.chosenBy], streams, spec.step));
    const uniform = streams.stream(`technique.${spec.step}`).uniform;
    const column = new Uint8Array(operations.knees);
    for (let row = 0; row < operations.knees; row++) {
      const surgeon = operations.surgeon[row] ?? 0;
      const chooser = spec.chosenBy === "surgeon" ? surgeon : (surgeons.centre[surgeon] ?? 0);
      const done = uniform() < (chance[chooser * YEARS + (year[row] ?? 0)] ?? 0);
      column[row] = done ? DONE : NOT_DONE;
      if (spec.step === "drilling" && sclerosis[row] === 0) column[row] = NOT_APPLICABLE;
    }
    return column;
  };
  // The list holds every step once, so the record is complete.
  const states = Object.fromEntries(SYNTHETIC_STEPS.map((spec) => [spec.step, state(spec)]));
  return { sclerosis, state: states as Record<TechniqueStep, Uint8Array> };
}

/** Chance that the step is done, for each chooser and year of operation. */
function chances(spec: SyntheticStep, scores: Float64Array): Float64Array {
  const table = new Float64Array(scores.length * YEARS);
  for (let year = 0; year < YEARS; year++) {
    const share = spec.prevalence + spec.drift * (year / (YEARS - 1) - 0.5);
    const limit = normalUpperQuantile(1 - share);
    for (let chooser = 0; chooser < scores.length; chooser++) {
      const own = Math.sqrt(spec.likeness) * (scores[chooser] ?? 0);
      table[chooser * YEARS + year] = normalLower((limit - own) / Math.sqrt(1 - spec.likeness));
    }
  }
  return table;
}

/**
 * Evenly spaced normal scores with variance 1.
 *
 * Four centres drawn at random could all mix alike: even scores keep the shares near what was planted, and
 * only who has which score is left to chance.
 */
function evenScores(count: number): Float64Array {
  if (count === 1) return new Float64Array(1);
  const scores = Float64Array.from({ length: count }, (_, place) =>
    normalUpperQuantile((place + 0.5) / count),
  );
  const meanSquare = scores.reduce((sum, score) => sum + score * score, 0) / count;
  return scores.map((score) => score / Math.sqrt(meanSquare));
}

function shuffled(scores: Float64Array, streams: RandomStreams, step: TechniqueStep): Float64Array {
  const stream = streams.stream(`inclination.${step}`);
  const order = scores.slice();
  for (let place = order.length - 1; place > 0; place--) {
    const other = stream.below(place + 1);
    const kept = order[place] ?? 0;
    order[place] = order[other] ?? 0;
    order[other] = kept;
  }
  return order;
}

function placeOf(state: RecordedState): number {
  return RECORDED_STATES.indexOf(state);
}
