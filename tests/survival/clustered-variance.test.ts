import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkObservations } from "../../src/survival/check-observations.ts";
import { groupOrder, pathSteps } from "../../src/survival/clustered-incidence.ts";
import { clusteredVariance } from "../../src/survival/clustered-variance.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { crudeRoles } from "../../src/survival/event-roles.ts";
import { addInfluence, influenceAt } from "../../src/survival/influence.ts";
import { riskSteps } from "../../src/survival/risk-steps.ts";
import { rowsByCell } from "../../src/survival/rows-by-cell.ts";
import { independentUnits } from "../../src/survival/units.ts";
import { rowsOf } from "./some-rows.ts";

const drawn = fc.record({
  seed: fc.nat(1_000_000),
  rows: fc.integer({ min: 1, max: 80 }),
  clusters: fc.integer({ min: 1, max: 30 }),
  entries: fc.boolean(),
  weights: fc.constantFrom("none", "copies", "sampling"),
  clustered: fc.boolean(),
});

/** Both ways to the same sum: all steps in one sweep over units, and every row's influence at one tick. */
function bothWays({
  seed,
  weights,
  clustered,
  ...shape
}: typeof drawn extends fc.Arbitrary<infer Drawn> ? Drawn : never) {
  const rows = rowsOf(seed, { ...shape, groups: 2, strata: 2, causes: 2, lastTick: 25 });
  // Weight 0 leaves a row out; the first row keeps the total above 0.
  const values = rows.exit.map((_, row) => (row === 0 ? 1 : row % 4));
  const observations = checkObservations(
    weights === "none" ? rows : { ...rows, weight: { kind: weights as "copies" | "sampling", values } },
  );
  const counts = countsByTime(observations);
  const units = independentUnits(observations, clustered);
  const roles = crudeRoles(observations.causes, 0);
  return [0, 1].map((group) => {
    const path = pathSteps(riskSteps(counts, group), roles);
    const order = groupOrder(observations, rowsByCell(observations), group, units, path.time);
    const sweep = clusteredVariance(roles, path, order);
    const direct = Array.from(path.time, (tick) => {
      const sums = new Float64Array(units.count);
      addInfluence(sums, observations, group, roles, path, influenceAt(path, tick), units);
      return {
        total: sums.reduce((sum, value) => sum + value, 0),
        squares: sums.reduce((sum, value) => sum + value * value, 0),
      };
    });
    return { sweep, direct, weighted: weights === "copies" && !clustered };
  });
}

describe("clusteredVariance()", () => {
  it("is the sum of squared unit influence at every step, and influence adds up to nothing", () => {
    fc.assert(
      fc.property(drawn, (shape) => {
        for (const { sweep, direct, weighted } of bothWays(shape)) {
          direct.forEach(({ total, squares }, step) => {
            expect(sweep[step]).toBeCloseTo(squares, 12);
            // Unclustered copies enter by the root of their number, so their plain sum means nothing.
            if (!weighted) expect(total).toBeCloseTo(0, 12);
          });
        }
      }),
      { seed: 20_240_502, numRuns: 200 },
    );
  });
});
