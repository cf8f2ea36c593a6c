import type { Answer } from "../../src/base/answer.ts";
import { requiredDayNumber } from "../../src/base/day-number.ts";
import { TIME_UNITS, tickOfYear } from "../../src/base/time-unit.ts";
import type { EventMethod } from "../../src/planning/events-required.ts";
import { powerOfEvents } from "../../src/planning/power-of-events.ts";
import { checkObservations } from "../../src/survival/check-observations.ts";
import { clusteredLogRank } from "../../src/survival/clustered-log-rank.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { logRankTest } from "../../src/survival/log-rank-test.ts";
import type { Observations } from "../../src/survival/observations.ts";
import { DATA_CUT, PLANTED_TRUTH, type PlantedEffect } from "../../src/synthetic/planted-truth.ts";
import { syntheticTruth } from "../../src/synthetic/synthetic-export.ts";

/** An export to be drawn again and again, with a planted effect, and the test that looks for it. */
export interface Design {
  readonly name: string;
  readonly question: string;
  readonly effect: Pick<PlantedEffect, "step" | "hazardRatios">;
  readonly knees: number;
  readonly surgeonFrailtySd: number;
  /** Years in which events count; those before it are at risk from its start. */
  readonly period?: readonly [from: number, to: number];
  readonly clustered: boolean;
  /** Deaths end observation, as they do; without them everybody is followed to the data cut. */
  readonly deaths: boolean;
  /** Share of the step's units in the exposed group, of which the formula knows. */
  readonly exposedShare: number;
  /** Proportional hazards, independent units: what the formulas take for granted. */
  readonly formulaHolds: boolean;
  /** Schoenfeld's formula is made for ratios near 1, and for larger ones where the groups are of one size. */
  readonly nearOne: boolean;
}

const ONE_RATIO = (ratio: number): PlantedEffect["hazardRatios"] => [ratio, ratio, ratio];
const PLAIN = {
  knees: 6000,
  surgeonFrailtySd: 0,
  clustered: false,
  deaths: false,
  exposedShare: 0.6,
  formulaHolds: true,
  nearOne: true,
} as const;

/** The first are those for which the closed formula was made; each of the others breaks one thing it takes for granted. */
export const DESIGNS: readonly Design[] = [
  {
    ...PLAIN,
    name: "ratio 1.5, decided knee by knee",
    question: "proportional hazards, independent knees",
    effect: { step: "stillUntilSet", hazardRatios: ONE_RATIO(1.5) },
  },
  {
    ...PLAIN,
    name: "ratio 2, decided knee by knee",
    question: "proportional hazards, independent knees",
    effect: { step: "stillUntilSet", hazardRatios: ONE_RATIO(2) },
  },
  {
    ...PLAIN,
    name: "no effect, decided knee by knee",
    question: "nothing to be found: the level of the test",
    effect: { step: "stillUntilSet", hazardRatios: ONE_RATIO(1) },
  },
  {
    ...PLAIN,
    name: "ratio 2, unequal groups",
    question: "a quarter of the knees in the smaller group",
    effect: { step: "seatedInWorkingPhase", hazardRatios: ONE_RATIO(2) },
    exposedShare: 0.75,
    nearOne: false,
  },
  {
    ...PLAIN,
    name: "ratio 2, deaths compete",
    question: "deaths only take events away: the formula counts those that are left",
    effect: { step: "stillUntilSet", hazardRatios: ONE_RATIO(2) },
    deaths: true,
  },
  {
    ...PLAIN,
    name: "ratio 2.5 in the first three years, looked for in those years",
    question: "a period question: only that period's events count",
    effect: { step: "stillUntilSet", hazardRatios: [2.5, 1, 1] },
    knees: 8000,
    period: [0, 3],
    deaths: true,
    nearOne: false,
  },
  {
    ...PLAIN,
    name: "ratio 2.5 in the first three years, looked for in all years",
    question: "one ratio for all years hides a change over the years",
    effect: { step: "stillUntilSet", hazardRatios: [2.5, 1, 1] },
    knees: 8000,
    deaths: true,
    formulaHolds: false,
  },
  {
    ...PLAIN,
    name: "ratio 2, chosen by 24 surgeons who differ, clustered test",
    question: "clustered choice: results of one surgeon are alike",
    effect: { step: "tourniquet", hazardRatios: ONE_RATIO(2) },
    surgeonFrailtySd: 0.35,
    clustered: true,
    deaths: true,
    formulaHolds: false,
  },
];

/** One export drawn with a seed: whoever was operated, followed to revision for loosening, death or the data cut. */
export function knees(
  design: Design,
  seed: number,
): { readonly observations: Observations; readonly events: number } {
  const { step, hazardRatios } = design.effect;
  const { operations, technique, revisions } = syntheticTruth({
    knees: design.knees,
    seed,
    planted: {
      ...PLANTED_TRUTH,
      effects: [{ step, state: "done", cause: "loosening", hazardRatios }],
      surgeonFrailtySd: design.surgeonFrailtySd,
      patientFrailtySd: 0,
    },
  });
  const cut = requiredDayNumber(DATA_CUT, "DATA_CUT");
  const [from, to] = (design.period ?? [0, 100]).map((year) => tickOfYear(year, TIME_UNITS.day));
  const rows: { exit: number; event: number; group: number; surgeon: number }[] = [];
  for (let row = 0; row < operations.knees; row += 1) {
    const operated = operations.operationDay[row] ?? 0;
    const death = (operations.deathDay[operations.patient[row] ?? 0] ?? 0) - operated;
    const revision = revisions.netDays.loosening[row] ?? 0;
    const last = Math.min(cut - operated, to ?? 0, design.deaths ? death : cut);
    const exit = Math.min(revision, last);
    if (exit <= (from ?? 0)) continue;
    rows.push({
      exit,
      event: revision <= last ? 1 : 0,
      group: technique.state[step][row] === 0 ? 0 : 1,
      surgeon: operations.surgeon[row] ?? 0,
    });
  }
  const observations = checkObservations({
    exit: Int32Array.from(rows, ({ exit }) => exit),
    event: Uint8Array.from(rows, ({ event }) => event),
    group: { codes: Int32Array.from(rows, ({ group }) => group), labels: ["done", "not done"] },
    cluster: { codes: Int32Array.from(rows, ({ surgeon }) => surgeon), word: "surgeon" },
  });
  return { observations, events: rows.reduce((sum, { event }) => sum + event, 0) };
}

/** The planned test: clustered on surgeons or not. */
export function pOf({ clustered }: Design, observations: Observations): Answer<{ readonly p: number }> {
  return clustered ? clusteredLogRank(observations) : logRankTest(countsByTime(observations));
}

/** What a closed formula says about as many events; the level of the test where there is nothing to be found. */
export function formulaPower({ effect, exposedShare }: Design, events: number, method: EventMethod): number {
  const [hazardRatio] = effect.hazardRatios;
  if (hazardRatio === 1) return 0.05;
  const answer = powerOfEvents({ events, hazardRatio, exposedShare, method });
  if (!answer.computed) throw new Error(answer.because);
  return Number(answer.power.toFixed(4));
}
