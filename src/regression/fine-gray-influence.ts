import { meanTimesHazard, scoreShares } from "./cox-influence.ts";
import type { CensoringCurve } from "./fine-gray-censoring.ts";
import { exposureBeyond, type FineGrayPoint, passedByStratum } from "./fine-gray-likelihood.ts";
import type { FineGrayRows } from "./fine-gray-rows.ts";

/**
 * Each row's share of the score, times its weight, by column.
 *
 * First what the row adds with the weights taken as known: as in a Cox model, and for somebody with a competing event the
 * cells passed since. Then, unless the weights are to be taken as known, what the row adds by having moved the curves that
 * the weights come from: at each step of a curve, the pull that a change of the step has on the score, times the row's
 * share of the step.
 */
export function fineGrayShares(
  frame: FineGrayRows,
  point: FineGrayPoint,
  areWeightsKnown: boolean,
): readonly Float64Array[] {
  const { rows, competing } = frame;
  const hazard = passedByStratum(frame, point.terms.hazard);
  const exposed = exposureBeyond(frame, point.sums, hazard);
  const moves = areWeightsKnown ? undefined : curveMoves(frame);
  return frame.values.map((column, j) => {
    const shares = scoreShares(rows, point, column, j);
    const pull = passedByStratum(frame, meanTimesHazard(point.sums, point.terms, j));
    const pulled = exposureBeyond(frame, point.sums, pull);
    const own = frame.competingValues[j]!;
    // Places are rows.
    for (let at = 0; at < competing.length; at += 1) {
      shares[competing[at]!]! += pulled[at]! - own[at]! * exposed[at]!;
    }
    if (moves !== undefined)
      addCurveShares(frame, moves, stepPulls(frame, moves, point, own, hazard, pull), shares);
    return shares;
  });
}

/** Steps of all curves in one row: those of a stratum follow an empty one, so that nothing before them is a step, too. */
interface CurveMoves {
  readonly begins: readonly number[];
  readonly steps: number;
  /** Step at which each row leaves, and at which it enters; the empty one for those there from the start. */
  readonly leaves: Int32Array;
  readonly enters: Int32Array;
  readonly isCensored: Uint8Array;
}

function curveMoves({ rows, curves, stratum }: FineGrayRows): CurveMoves {
  const { exit, entry, event } = rows.observations;
  let steps = 0;
  const begins = curves.map(({ time }) => {
    const begin = steps;
    steps += time.length + 1;
    return begin;
  });
  const lookUp = curves.map(({ stepsUpTo }) => stepsUpTo);
  const [leaves, enters] = [new Int32Array(rows.count), new Int32Array(rows.count)];
  const isCensored = new Uint8Array(rows.count);
  for (let place = 0; place < rows.count; place += 1) {
    const row = rows.row[place]!;
    const own = stratum[place]!;
    leaves[place] = begins[own]! + lookUp[own]!(exit[row]!);
    enters[place] = begins[own]! + (entry === undefined || entry[row]! < 0 ? 0 : lookUp[own]!(entry[row]!));
    isCensored[place] = event[row] === 0 ? 1 : 0;
  }
  return { begins, steps, leaves, enters, isCensored };
}

/** Pulls on the score of one row that is censored at a step, or enters there, and their sums as all at risk share them. */
interface StepPulls {
  readonly censoring: Float64Array;
  readonly censoringPassed: Float64Array;
  readonly entry: Float64Array;
  readonly entryPassed: Float64Array;
}

/**
 * A step of the curve changes the weight of everybody whose competing event came up to it, in all cells after it: it pulls by
 * Σ relative / K · (mean · hazard to come) − Σ relative · column / K · (hazard to come), sums over those people.
 */
function stepPulls(
  frame: FineGrayRows,
  { begins, steps, leaves }: CurveMoves,
  { sums }: FineGrayPoint,
  column: Float64Array,
  hazard: readonly Float64Array[],
  pull: readonly Float64Array[],
): StepPulls {
  const { competing, stayedAtExit, curves } = frame;
  const series = () => new Float64Array(steps);
  const [people, peopleBy] = [series(), series()];
  for (let at = 0; at < competing.length; at += 1) {
    const place = competing[at]!;
    const share = sums.relative[place]! / stayedAtExit[at]!;
    people[leaves[place]!]! += share;
    peopleBy[leaves[place]!]! += share * column[at]!;
  }
  const pulls = { censoring: series(), censoringPassed: series(), entry: series(), entryPassed: series() };
  curves.forEach((curve, own) => {
    const from = begins[own]! + 1;
    const to = from + curve.time.length;
    const part = (all: Float64Array) => all.subarray(from, to);
    const whole = pullOfSteps(frame, curve, part(people), part(peopleBy), hazard[own]!, pull[own]!);
    shared(whole, curve.censored, curve.atRisk, part(pulls.censoring), part(pulls.censoringPassed));
    shared(whole, curve.entered, curve.present, part(pulls.entry), part(pulls.entryPassed));
  });
  return pulls;
}

function pullOfSteps(
  { rows }: FineGrayRows,
  { time }: CensoringCurve,
  people: Float64Array,
  peopleBy: Float64Array,
  hazard: Float64Array,
  pull: Float64Array,
): Float64Array {
  const { tick, count } = rows.cells;
  const last = count - 1;
  const whole = new Float64Array(time.length);
  let [sum, sumBy, cell] = [0, 0, 0];
  for (let step = 0; step < time.length; step += 1) {
    sum += people[step]!;
    sumBy += peopleBy[step]!;
    while (cell < last && tick[cell + 1]! <= time[step]!) cell += 1;
    whole[step] = sum * (pull[last]! - pull[cell]!) - sumBy * (hazard[last]! - hazard[cell]!);
  }
  return whole;
}

/** What one who moves at a step adds, and the running sum of what all who could have moved give for it. */
function shared(
  whole: Float64Array,
  moved: Float64Array,
  could: Float64Array,
  own: Float64Array,
  passed: Float64Array,
): void {
  let sum = 0;
  for (let step = 0; step < whole.length; step += 1) {
    if (moved[step]! > 0) {
      own[step] = whole[step]! / could[step]!;
      sum += (own[step]! * moved[step]!) / could[step]!;
    }
    passed[step] = sum;
  }
}

/** Censored on a tick or entering on it, less the share that everybody has who could have been. */
function addCurveShares(
  { rows }: FineGrayRows,
  { leaves, enters, isCensored }: CurveMoves,
  { censoring, censoringPassed, entry, entryPassed }: StepPulls,
  shares: Float64Array,
): void {
  const { weight } = rows;
  const { entry: delayed } = rows.observations;
  for (let place = 0; place < shares.length; place += 1) {
    const [leave, enter] = [leaves[place]!, enters[place]!];
    // One with an event could not be censored on its tick.
    const censored = isCensored[place]!;
    let share =
      censoringPassed[leave - 1 + censored]! - censoringPassed[enter]! - censored * censoring[leave]!;
    if (delayed !== undefined) {
      // Those who enter on a tick are there for it; those who leave on it are not. Nobody enters at an empty step.
      const isThereFromStart = delayed[rows.row[place]!]! < 0;
      share += entry[enter]! - entryPassed[leave - 1]! + (isThereFromStart ? 0 : entryPassed[enter - 1]!);
    }
    shares[place]! += weight === undefined ? share : weight[place]! * share;
  }
}
