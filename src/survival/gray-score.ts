import type { CountsByTime } from "./counts.ts";
import { type EventRoles, eventsInRole } from "./event-roles.ts";
import { atRiskAt, stepsUpTo } from "./risk-steps.ts";

/** Gray's scores of all groups in one stratum, and their covariance. */
export interface GrayScore {
  readonly score: readonly number[];
  readonly variance: readonly (readonly number[])[];
}

/** What the test needs to know of one tick with an event of any cause. Arrays over groups. */
interface GrayStep {
  readonly atRisk: readonly number[];
  readonly wanted: readonly number[];
  readonly competing: readonly number[];
  /** Share event-free just before and just after the tick. */
  readonly before: readonly number[];
  readonly after: readonly number[];
  /** Own incidence just before the tick. */
  readonly incidence: readonly number[];
  /** Pooled incidence just before and just after. */
  readonly pooledBefore: number;
  readonly pooledAfter: number;
  /** Σ n / S: how many would be at risk had nobody been lost to a competing event or censoring. */
  readonly standing: number;
}

/**
 * Scores and covariance of Gray's test in one stratum.
 *
 * A group's score is its events minus the share R_i (1 − F_i) / Σ R (1 − F) of all events, with R = n / S: that is its
 * share of the subdistribution risk set. With A_ij the weight that an event puts on the difference of groups i and j, and
 * C_ij its integral over the pooled subdistribution hazard up to the tick, the score is a martingale integral whose
 * integrand for group k is
 *
 *   A_ik + g (C_ik(∞) − C_ik)   at events of the cause,   g = 1 − (1 − F) / S_k,
 *   −(1 − F) / S_k · (C_ik(∞) − C_ik)   at competing events.
 *
 * C is known to the end only after a first pass, so there are two.
 */
export function grayScore(
  counts: CountsByTime,
  stratum: number,
  roles: EventRoles,
  power: number,
): GrayScore {
  const steps = graySteps(counts, stratum, roles);
  const groups = counts.groups.length;
  const square = () => Array.from({ length: groups }, () => new Array<number>(groups).fill(0));
  const score = new Array<number>(groups).fill(0);
  const total = square();
  for (const step of steps) {
    addScore(score, step, power);
    addTo(total, contrast(step, power), pooledHazard(step));
  }
  const gathered = square();
  const variance = square();
  for (const step of steps) {
    const now = contrast(step, power);
    addTo(gathered, now, pooledHazard(step));
    for (let k = 0; k < groups; k++) {
      const toCome = (i: number) => (total[i]?.[k] ?? 0) - (gathered[i]?.[k] ?? 0);
      const free = step.after[k] ?? 0;
      const ratio = free > 0 ? (1 - step.pooledAfter) / free : 0;
      const pull = (i: number) => (now[i]?.[k] ?? 0) + (1 - ratio) * toCome(i);
      addOuter(variance, pull, causeSpread(step, k));
      if (free > 0) addOuter(variance, (i) => ratio * toCome(i), competingSpread(step, k));
    }
  }
  return { score, variance };
}

function graySteps(counts: CountsByTime, stratum: number, roles: EventRoles): GrayStep[] {
  const cells = counts.groups.map((_, group) =>
    counts.cells.find((cell) => cell.group === group && cell.stratum === stratum),
  );
  const wanted = cells.map((cell) => cell && eventsInRole(cell, roles.wanted));
  const competing = cells.map((cell) => cell && eventsInRole(cell, roles.competing));
  const ticks = cells.flatMap((cell, group) =>
    [...(cell?.time ?? [])].filter((_, at) => (wanted[group]?.[at] ?? 0) + (competing[group]?.[at] ?? 0) > 0),
  );
  let before = cells.map(() => 1);
  let incidence = cells.map(() => 0);
  let pooled = 0;
  return [...new Set(ticks)]
    .sort((a, b) => a - b)
    .map((tick) => {
      const atTick = (series: ArrayLike<number> | undefined, time: ArrayLike<number> | undefined) => {
        const at = time === undefined ? -1 : stepsUpTo(time, tick) - 1;
        return time?.[at] === tick ? (series?.[at] ?? 0) : 0;
      };
      const atRisk = cells.map((cell) => (cell === undefined ? 0 : atRiskAt(cell.time, cell.atRisk, tick)));
      const k = cells.map((cell, group) => atTick(wanted[group], cell?.time));
      const other = cells.map((cell, group) => atTick(competing[group], cell?.time));
      const standing = sum(atRisk.map((n, group) => (n > 0 ? n / (before[group] ?? 1) : 0)));
      const step: GrayStep = {
        atRisk,
        wanted: k,
        competing: other,
        before,
        after: before.map((free, group) => free * left(atRisk[group], (k[group] ?? 0) + (other[group] ?? 0))),
        incidence,
        pooledBefore: pooled,
        pooledAfter: pooled + sum(k) / standing,
        standing,
      };
      incidence = incidence.map(
        (own, group) => own + (before[group] ?? 0) * (1 - left(atRisk[group], k[group])),
      );
      before = [...step.after];
      pooled = step.pooledAfter;
      return step;
    });
}

/** Share of those at risk who stay; 1 where nobody is at risk. */
function left(atRisk: number | undefined, events: number | undefined): number {
  return atRisk === undefined || atRisk <= 0 ? 1 : (atRisk - (events ?? 0)) / atRisk;
}

function addScore(score: number[], step: GrayStep, power: number): void {
  const standing = step.atRisk.map((n, group) =>
    n > 0 ? (n / (step.before[group] ?? 1)) * (1 - (step.incidence[group] ?? 0)) : 0,
  );
  const events = sum(step.wanted);
  const all = sum(standing);
  for (let group = 0; group < score.length; group++) {
    if ((step.atRisk[group] ?? 0) <= 0) continue;
    score[group]! +=
      weightOf(step, power) * ((step.wanted[group] ?? 0) - (events * (standing[group] ?? 0)) / all);
  }
}

/** A: R_i (δ_ij − R_j / R) among groups at risk. */
function contrast(step: GrayStep, power: number): number[][] {
  const weight = weightOf(step, power);
  const standing = step.atRisk.map((n, group) => (n > 0 ? n / (step.before[group] ?? 1) : 0));
  return standing.map((a, i) => standing.map((b, j) => weight * a * ((i === j ? 1 : 0) - b / step.standing)));
}

function pooledHazard(step: GrayStep): number {
  return sum(step.wanted) / (step.standing * (1 - step.pooledBefore));
}

function weightOf(step: GrayStep, power: number): number {
  return power === 0 ? 1 : Math.exp(power * Math.log1p(-step.pooledBefore));
}

/** Variance of a group's events of the cause, expected from all groups, per squared number standing. */
function causeSpread(step: GrayStep, group: number): number {
  const n = step.atRisk[group] ?? 0;
  const events = sum(step.wanted);
  if (n <= 0 || events <= 0) return 0;
  const free = step.before[group] ?? 0;
  // A nearly empty group beside a full one would make the tie factor negative.
  const ties = events > 1 ? Math.max(0, 1 - (events - 1) / (step.standing * free - 1)) : 1;
  return (ties * free * events) / (step.standing * n);
}

function competingSpread(step: GrayStep, group: number): number {
  const n = step.atRisk[group] ?? 0;
  const events = step.competing[group] ?? 0;
  if (n <= 0 || events <= 0) return 0;
  const free = step.before[group] ?? 0;
  const ties = events > 1 ? 1 - (events - 1) / (n - 1) : 1;
  return (ties * free * free * events) / (n * n);
}

function addTo(target: number[][], source: readonly (readonly number[])[], factor: number): void {
  target.forEach((line, i) => {
    line.forEach((_, j) => {
      line[j]! += factor * (source[i]?.[j] ?? 0);
    });
  });
}

function addOuter(target: number[][], pull: (group: number) => number, spread: number): void {
  if (spread === 0) return;
  const pulls = target.map((_, group) => pull(group));
  target.forEach((line, i) => {
    line.forEach((_, j) => {
      line[j]! += spread * (pulls[i] ?? 0) * (pulls[j] ?? 0);
    });
  });
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
