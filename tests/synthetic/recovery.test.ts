import { beforeAll, describe, expect, it } from "vitest";
import { PLANTED_TRUTH, type SyntheticTruth, syntheticTruth } from "../../src/synthetic/index.ts";
import { DONE, NOT_DONE } from "../../src/synthetic/technique-choice.ts";
import { logRateRatio, type Window } from "./rates.ts";

/** Enough surgeons that who chooses what evens out, and enough knees for a few hundred loosenings in each window. */
const LARGE = { seed: 7, knees: 180_000, surgeons: 2400, centres: 120 };

let truth: SyntheticTruth;
beforeAll(() => {
  truth = syntheticTruth(LARGE);
}, 60_000);

const WINDOWS: readonly (readonly [words: string, window: Window])[] = [
  ["0–3 years", [0, 3]],
  ["3–5 years", [3, 5]],
  ["over 5 years", [5]],
];

describe("a large draw gives back the planted effect of", () => {
  WINDOWS.forEach(([words, window], place) => {
    // Planted: 0.4, 1.0, 1.5.
    it(`the tourniquet on loosening, ${words}`, () => {
      const done = truth.technique.state.tourniquet.map((state) => (state === DONE ? 1 : 0));
      expectRatio(logRateRatio(truth, "loosening", done, window), [0.4, 1.0, 1.5][place]);
    });

    // Planted: 1.8 throughout.
    it(`movement before the cement had set on loosening, ${words}`, () => {
      const moved = truth.technique.state.stillUntilSet.map((state) => (state === NOT_DONE ? 1 : 0));
      expectRatio(logRateRatio(truth, "loosening", moved, window), 1.8);
    });
  });

  // Planted: none.
  it("antibiotic cement on infection, which is none", () => {
    const done = truth.technique.state.antibioticCement.map((state) => (state === DONE ? 1 : 0));
    expectRatio(logRateRatio(truth, "infection", done, [0]), 1);
  });

  it("component order on loosening, which is none", () => {
    const done = truth.technique.state.tibiaFirst.map((state) => (state === DONE ? 1 : 0));
    expectRatio(logRateRatio(truth, "loosening", done, [0]), 1);
  });

  it("the tourniquet on infection, where nothing was planted", () => {
    const done = truth.technique.state.tourniquet.map((state) => (state === DONE ? 1 : 0));
    expectRatio(logRateRatio(truth, "infection", done, [0]), 1);
  });
});

describe("a draw with another truth", () => {
  it("gives back the ratio that was asked for, not the default", () => {
    const effect = {
      step: "antibioticCement",
      state: "done",
      cause: "infection",
      hazardRatios: [0.5, 0.5, 0.5],
    } as const;
    const changed = syntheticTruth({ ...LARGE, knees: 90_000, planted: { effects: [effect] } });
    const done = changed.technique.state.antibioticCement.map((state) => (state === DONE ? 1 : 0));
    expectRatio(logRateRatio(changed, "infection", done, [0]), 0.5);
  });
});

/** Three standard errors; and so few that the next planted value, 0.4 to 1 to 1.5 to 1.8, lies outside. */
function expectRatio(found: ReturnType<typeof logRateRatio>, planted = Number.NaN): void {
  expect(found.events).toBeGreaterThan(300);
  expect(found.standardError).toBeLessThan(0.15);
  expect(Math.abs(found.logRatio - Math.log(planted))).toBeLessThan(3 * found.standardError);
}

describe("the spread between surgeons", () => {
  // Planted SD 0.35 of the log, so the factor has variance exp(0.35²) − 1 (closed form of the lognormal).
  it("is recovered from surgeons' counts of revisions without planted effects", () => {
    const { operations, surgeons, revisions } = truth;
    const seen = new Float64Array(surgeons.count);
    const knees = new Float64Array(surgeons.count);
    const until = 3652;
    for (let row = 0; row < operations.knees; row++) {
      const surgeon = operations.surgeon[row] ?? 0;
      knees[surgeon] = (knees[surgeon] ?? 0) + 1;
      if ((revisions.netDays.other[row] ?? 0) <= until) seen[surgeon] = (seen[surgeon] ?? 0) + 1;
    }
    const share = seen.reduce((a, b) => a + b, 0) / operations.knees;
    const parts = Array.from(seen, (count, surgeon) => {
      const expected = share * (knees[surgeon] ?? 0);
      return { surplus: (count - expected) ** 2 - expected, square: expected * expected };
    });
    const squares = parts.reduce((sum, { square }) => sum + square, 0);
    const variance = parts.reduce((sum, { surplus }) => sum + surplus, 0) / squares;
    const error =
      Math.sqrt(parts.reduce((sum, part) => sum + (part.surplus - variance * part.square) ** 2, 0)) / squares;
    const planted = Math.exp(PLANTED_TRUTH.surgeonFrailtySd * PLANTED_TRUTH.surgeonFrailtySd) - 1;
    expect(Math.abs(variance - planted)).toBeLessThan(3 * error);
    expect(variance).toBeGreaterThan(3 * error);
  });
});

describe("the association of two knees of one patient", () => {
  const hazard = 0.1;
  const years = 2;
  const oneCause = {
    netHazards: { periodEnds: [], per1000: { infection: [0], loosening: [0], other: [1000 * hazard] } },
    surgeonFrailtySd: 0,
    effects: [],
  };

  // Planted variance 0.25 of the log. Hazards are raised so that both knees are often revised.
  it("gives back the planted variance of patient frailty", () => {
    const { variance, standardError } = logFrailtyVariance(0.5);
    expect(Math.abs(variance - 0.25)).toBeLessThan(3 * standardError);
    expect(standardError).toBeLessThan(0.05);
  });

  it("is nothing without patient frailty", () => {
    const { excess, excessError } = association(0);
    expect(Math.abs(excess)).toBeLessThan(3 * excessError);
  });

  /** How much more often both knees are revised within two years than independence says, as a share. */
  function association(patientFrailtySd: number) {
    const { operations, revisions } = syntheticTruth({
      seed: 11,
      knees: 60_000,
      surgeons: 100,
      allBilateral: true,
      planted: { ...oneCause, patientFrailtySd },
    });
    const revised = (row: number) => ((revisions.days[row] ?? 0) <= 730 ? 1 : 0);
    const pairs = operations.patients;
    let both = 0;
    let either = 0;
    for (let row = 0; row < operations.knees; row += 2) {
      expectPair(operations.patient, row);
      both += revised(row) * revised(row + 1);
      either += revised(row) + revised(row + 1);
    }
    const share = either / (2 * pairs);
    // Error of the count of pairs with both; that of the share is smaller by an order and partly cancels.
    return { excess: both / pairs / share ** 2 - 1, excessError: Math.sqrt(both) / pairs / share ** 2 };
  }

  function logFrailtyVariance(planted: number) {
    const { excess, excessError } = association(planted);
    const variance = solve((sd) => expectedExcess(sd) - excess) ** 2;
    const slope =
      (expectedExcess(planted + 0.01) - expectedExcess(planted - 0.01)) /
      ((planted + 0.01) ** 2 - (planted - 0.01) ** 2);
    return { variance, standardError: excessError / slope };
  }

  /** E[(1 − exp(−θΛ))²] ÷ E[1 − exp(−θΛ)]² − 1 over a lognormal θ of mean 1, by a fine sum over its log. */
  function expectedExcess(sd: number): number {
    let [weight, first, second] = [0, 0, 0];
    for (let z = -7; z <= 7; z += 0.01) {
      const density = Math.exp(-(z * z) / 2);
      const chance = 1 - Math.exp(-hazard * years * Math.exp(sd * z - (sd * sd) / 2));
      weight += density;
      first += density * chance;
      second += density * chance * chance;
    }
    return second / weight / (first / weight) ** 2 - 1;
  }

  function solve(distance: (sd: number) => number): number {
    let [low, high] = [0, 2];
    for (let step = 0; step < 40; step++) {
      const middle = (low + high) / 2;
      if (distance(middle) < 0) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  }

  function expectPair(patient: Int32Array, row: number): void {
    if (patient[row] !== patient[row + 1]) throw new Error("rows are not pairs");
  }
});
