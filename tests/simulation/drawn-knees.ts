import type { RandomStream } from "../../src/base/random-streams.ts";
import { checkObservations } from "../../src/survival/check-observations.ts";
import type { Observations } from "../../src/survival/observations.ts";

/** Standard deviations of the logs of surgeons' hazards and volumes. */
export const FRAILTY_SD = 0.35;
export const VOLUME_SD = 0.5;
export const DAYS_PER_YEAR = 365.25;

/** Revisions per 1,000 knee-years from each year on: the net hazards of all reasons together. */
const REVISION_RATES = [
  { fromYear: 0, per1000: 4.5 },
  { fromYear: 1, per1000: 5.4 },
  { fromYear: 3, per1000: 3.4 },
  { fromYear: 5, per1000: 2.8 },
  { fromYear: 10, per1000: 3.0 },
] as const;

const CAUSES = ["revision", "death"];

export interface DrawnKnees {
  readonly knees: number;
  readonly surgeons: number;
  /** How many surgeons use the technique, always; the others never do. Left out: half of all knees, whoever operates. */
  readonly users?: number;
  /** Standard deviation of the log hazard between surgeons. Default `FRAILTY_SD`. */
  readonly frailtySd?: number;
  /** Hazard with the technique over that without, from a year on that begins a rate. Default 1. */
  readonly ratio?: (fromYear: number) => number;
}

/** Invented knees in two groups, clustered by surgeon, in whom revision competes with death. */
export function drawKnees(
  stream: RandomStream,
  { knees, surgeons, users, frailtySd = FRAILTY_SD, ratio = () => 1 }: DrawnKnees,
): Observations {
  const frailty = Array.from({ length: surgeons }, () => Math.exp(frailtySd * normal(stream)));
  const volume = Array.from({ length: surgeons }, () => Math.exp(VOLUME_SD * normal(stream)));
  const reached = runningShares(volume);
  const exit = new Int32Array(knees);
  const event = new Uint8Array(knees);
  const technique = new Uint8Array(knees);
  const surgeonOf = new Int32Array(knees);
  for (let knee = 0; knee < knees; knee++) {
    const draw = stream.uniform();
    const surgeon = reached.findIndex((share) => draw < share);
    technique[knee] = (users === undefined ? stream.uniform() < 0.5 : surgeon < users) ? 1 : 0;
    const revision = revisionDay(
      exponential(stream) / (frailty[surgeon] ?? 1),
      technique[knee] === 1 ? ratio : () => 1,
    );
    const death = deathDay(stream);
    const end = Math.floor((5 + 10 * stream.uniform()) * DAYS_PER_YEAR);
    surgeonOf[knee] = surgeon;
    exit[knee] = Math.min(revision, death, end);
    // On one day a revision comes before a death, a death before the end of observation.
    event[knee] = revision <= Math.min(death, end) ? 1 : death <= end ? 2 : 0;
  }
  return checkObservations({
    exit,
    event,
    causes: CAUSES,
    group: { codes: technique, labels: ["never", "always"] },
    cluster: { codes: surgeonOf, word: "surgeon" },
  });
}

function runningShares(volume: readonly number[]): number[] {
  const all = volume.reduce((sum, one) => sum + one, 0);
  let sum = 0;
  const shares = volume.map((one) => {
    sum += one / all;
    return sum;
  });
  shares[shares.length - 1] = 1;
  return shares;
}

/** Day on which the summed hazard reaches the amount; past the end of everybody's follow-up where it never does. */
function revisionDay(amount: number, ratio: (fromYear: number) => number): number {
  let left = amount;
  for (const [place, { fromYear, per1000 }] of REVISION_RATES.entries()) {
    const years = (REVISION_RATES[place + 1]?.fromYear ?? 100) - fromYear;
    const rate = per1000 * ratio(fromYear);
    const within = (1000 * left) / rate;
    if (within < years) return Math.ceil((fromYear + within) * DAYS_PER_YEAR);
    left -= (rate * years) / 1000;
  }
  return Math.ceil(100 * DAYS_PER_YEAR);
}

/** Hazard of death 0.0075 a year at 65, growing by a tenth a year of age on the log scale; age 69, SD 9.5. */
function deathDay(stream: RandomStream): number {
  const age = 69 + 9.5 * normal(stream);
  const hazard = 0.0075 * Math.exp(0.1 * (age - 65));
  return Math.ceil(10 * Math.log1p((0.1 * exponential(stream)) / hazard) * DAYS_PER_YEAR);
}

function exponential(stream: RandomStream): number {
  return -Math.log1p(-stream.uniform());
}

function normal(stream: RandomStream): number {
  return Math.sqrt(2 * exponential(stream)) * Math.cos(2 * Math.PI * stream.uniform());
}
