import { beforeAll, describe, expect, it } from "vitest";
import { TIME_UNITS, tickOfYear } from "../../src/base/time-unit.ts";
import { syntheticTruth } from "../../src/synthetic/index.ts";
import { REASONS } from "../../src/synthetic/planted-truth.ts";
import { mean, standardError } from "./helpers.ts";

/**
 * Crude cumulative incidences in per cent that follow from the planted net hazards and deaths alone, without
 * frailty or effects. Computed outside the project from the recipe; printed with two decimals, deaths with one.
 */
const EXPECTED = [
  { year: 1, all: 0.45, loosening: 0.03, infection: 0.25, dead: 0.9 },
  { year: 5, all: 2.11, loosening: 0.48, infection: 0.59, dead: 9.1 },
  { year: 10, all: 3.26, loosening: 0.93, infection: 0.75, dead: 21.9 },
];
const MEASURES = ["all", "loosening", "infection"] as const;
const SEEDS = Array.from({ length: 20 }, (_, place) => place + 1);

describe("syntheticExport() over twenty seeds", () => {
  let draws: ReturnType<typeof trueIncidence>[];
  beforeAll(() => {
    draws = SEEDS.map(trueIncidence);
  }, 60_000);

  for (const expected of EXPECTED) {
    for (const measure of MEASURES) {
      it(`keeps the crude incidence at ${expected.year} years (${measure}) in spite of frailty and effects`, () => {
        const values = draws.map((draw) => draw(expected.year)[measure]);
        const roundedBy = 0.005;
        const distance = Math.abs(mean(values) - expected[measure]);
        expect(distance).toBeLessThan(3 * standardError(values) + roundedBy);
      });
    }

    it(`keeps the share that died first at ${expected.year} years`, () => {
      const values = draws.map((draw) => draw(expected.year).dead);
      // A second operation lowers the hazard of death for another year, in a fifth of the knees.
      expect(Math.abs(mean(values) - expected.dead)).toBeLessThan(0.05 + 0.02 * expected.dead);
    });
  }
});

/** Shares among all knees, followed to revision or death whatever the data cut: nobody is censored. */
function trueIncidence(seed: number) {
  const { operations, revisions } = syntheticTruth({
    seed,
    knees: 10_000,
    surgeons: 100,
    centres: 10,
  });
  const daysToDeath = operations.operationDay.map(
    (day, row) => (operations.deathDay[operations.patient[row] ?? 0] ?? 0) - day,
  );
  return (year: number) => {
    const until = tickOfYear(year, TIME_UNITS.day);
    const counts = { all: 0, loosening: 0, infection: 0, dead: 0 };
    revisions.days.forEach((days, row) => {
      const death = daysToDeath[row] ?? 0;
      const reason = REASONS[revisions.reason[row] ?? 0];
      if (days <= until && days <= death) {
        counts.all++;
        if (reason === "loosening" || reason === "infection") counts[reason]++;
      } else if (death <= until) counts.dead++;
    });
    const perCent = (count: number) => (100 * count) / operations.knees;
    return {
      all: perCent(counts.all),
      loosening: perCent(counts.loosening),
      infection: perCent(counts.infection),
      dead: perCent(counts.dead),
    };
  };
}
