import { requiredDayNumber } from "../base/day-number.ts";
import type { TechniqueStep } from "../cases/roles.ts";
import type { Operations } from "./operations.ts";
import { DATA_CUT, type PlantedTruth, REASONS } from "./planted-truth.ts";
import { exponentialDraws, filled, type RandomStreams, shareDraws } from "./random-draws.ts";
import type { RevisionTimes } from "./revision-times.ts";
import { NOT_APPLICABLE, type Technique } from "./technique-choice.ts";
import { SYNTHETIC_STEPS, type SyntheticStep } from "./technique-steps.ts";

/** A day that the file leaves blank. */
export const NO_DAY = -1;

/** Parts found loose, with their shares; the tibial part loosens two to three times as often as the femoral one. */
export const LOOSENED_COMPONENTS: readonly (readonly [word: string, label: string, share: number])[] = [
  ["tibia", "tibial component", 0.65],
  ["femur", "femoral component", 0.25],
  ["both", "both components", 0.1],
];

/** What the file shows of each knee: what was seen until the data cut, and what was written down. */
export interface Recording {
  /** Days since 1970-01-01, or `NO_DAY`. */
  readonly revisionDay: Int32Array;
  readonly deathDay: Int32Array;
  readonly emigrationDay: Int32Array;
  /** Last day on which a revision would have been seen. */
  readonly lastDay: Int32Array;
  /** Place in `REASONS` as the file says it; meaningless without a revision day. */
  readonly reason: Uint8Array;
  /** Place in `LOOSENED_COMPONENTS`; meaningless unless the file says loosening. */
  readonly component: Uint8Array;
  /** 1 = the step applies and nothing was written down. */
  readonly notRecorded: Readonly<Record<TechniqueStep, Uint8Array>>;
  /** Day on which a dated step was written down, or `NO_DAY`. */
  readonly recordedOn: ReadonlyMap<TechniqueStep, Int32Array>;
}

const CUT_DAY = requiredDayNumber(DATA_CUT, "DATA_CUT");

export function drawRecording(
  operations: Operations,
  technique: Technique,
  revisions: RevisionTimes,
  planted: PlantedTruth,
  streams: RandomStreams,
): Recording {
  const seen = whatWasSeen(operations, revisions);
  const component = shareDraws(
    streams.stream("recording.component"),
    LOOSENED_COMPONENTS.map(([, , share]) => share),
  );
  const unrecorded = SYNTHETIC_STEPS.map(
    (spec) => [spec.step, notRecorded(spec, technique, streams)] as const,
  );
  // The list holds every step once, so the record is complete.
  const notRecordedBySteps = Object.fromEntries(unrecorded) as Record<TechniqueStep, Uint8Array>;
  const dated = SYNTHETIC_STEPS.filter((spec) => spec.dated).map(({ step }) => step);
  return {
    ...seen,
    reason: labelledReasons(revisions.reason, planted, streams),
    component: filled(new Uint8Array(operations.knees), component),
    notRecorded: notRecordedBySteps,
    recordedOn: new Map(
      dated.map((step) => [step, recordedOn(step, operations, seen, notRecordedBySteps[step], streams)]),
    ),
  };
}

type Seen = Pick<Recording, "revisionDay" | "deathDay" | "emigrationDay" | "lastDay">;

/** Death and revision are captured nationally: only moving abroad and the data cut hide them. */
function whatWasSeen(operations: Operations, revisions: RevisionTimes): Seen {
  const { knees, patient, operationDay } = operations;
  const column = () => new Int32Array(knees).fill(NO_DAY);
  const seen = { revisionDay: column(), deathDay: column(), emigrationDay: column(), lastDay: column() };
  for (let row = 0; row < knees; row++) {
    const person = patient[row] ?? 0;
    const death = operations.deathDay[person] ?? 0;
    const emigration = operations.emigrationDay[person] ?? 0;
    const lastDay = Math.min(death, emigration, CUT_DAY);
    const revision = (operationDay[row] ?? 0) + (revisions.days[row] ?? 0);
    seen.lastDay[row] = lastDay;
    if (death === lastDay) seen.deathDay[row] = death;
    else if (emigration === lastDay) seen.emigrationDay[row] = emigration;
    if (revision <= lastDay) seen.revisionDay[row] = revision;
  }
  return seen;
}

function labelledReasons(reason: Uint8Array, planted: PlantedTruth, streams: RandomStreams): Uint8Array {
  const uniform = streams.stream("recording.reason").uniform;
  const infection = REASONS.indexOf("infection");
  const loosening = REASONS.indexOf("loosening");
  return reason.map((place) => {
    const mislabelled = uniform() < planted.infectionsLabelledLoosening;
    return mislabelled && place === infection ? loosening : place;
  });
}

function notRecorded(spec: SyntheticStep, technique: Technique, streams: RandomStreams): Uint8Array {
  const uniform = streams.stream(`recording.${spec.step}`).uniform;
  return technique.state[spec.step].map((state) => {
    const left = uniform() < spec.notRecorded;
    return left && state !== NOT_APPLICABLE ? 1 : 0;
  });
}

/** Running shares of records made on the day and within a month; and of revised knees' records made afterwards. */
export const WRITTEN = { sameDay: 0.92, withinMonth: 0.98, afterRevision: 0.06 } as const;
const LONGEST_DELAY_DAYS = 400;
const MEAN_DAYS_AFTER_REVISION = 60;

function recordedOn(
  step: TechniqueStep,
  { operationDay }: Operations,
  seen: Seen,
  unrecorded: Uint8Array,
  streams: RandomStreams,
): Int32Array {
  const kind = streams.stream(`recordedOn.kind.${step}`).uniform;
  const delay = streams.stream(`recordedOn.delay.${step}`).uniform;
  const reopened = streams.stream(`recordedOn.afterRevision.${step}`).uniform;
  const afterwards = exponentialDraws(streams.stream(`recordedOn.wait.${step}`));
  return operationDay.map((operation, row) => {
    const [kindDrawn, delayDrawn, reopenedDrawn, waited] = [kind(), delay(), reopened(), afterwards()];
    if (unrecorded[row] === 1) return NO_DAY;
    const revision = seen.revisionDay[row] ?? NO_DAY;
    if (revision !== NO_DAY && reopenedDrawn < WRITTEN.afterRevision) {
      return Math.min(revision + 1 + Math.floor(MEAN_DAYS_AFTER_REVISION * waited), CUT_DAY);
    }
    if (kindDrawn < WRITTEN.sameDay) return operation;
    const longest = kindDrawn < WRITTEN.withinMonth ? 30 : LONGEST_DELAY_DAYS;
    const late = operation + 1 + Math.floor(longest * delayDrawn);
    return late <= (seen.lastDay[row] ?? 0) ? late : operation;
  });
}
