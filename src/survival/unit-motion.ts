/** What a step does to everybody at risk, and to a row that has an event at it. */
export interface StepSizes {
  /** Growth of F: S k / n. */
  readonly growth: number;
  /** S k / n². */
  readonly pull: number;
  /** d / (n (n − d)), 0 once nobody is left. */
  readonly hazard: number;
}

/**
 * Squared influence of all units on a growing incidence F, kept up to date together.
 *
 * With U a unit's influence on F, G minus its influence on the log of the share event-free, and Y its weight at risk, a
 * step moves every unit by
 *
 *   U ← U − growth G − pull Y,   G ← G − hazard Y
 *
 * so the six sums of products of U, G and Y over units follow from each other, and a single unit can be caught up at any
 * later step from four running sums.
 */
export interface UnitMotion {
  moveAll(sizes: StepSizes): void;
  change(unit: number, addedInfluence: number, addedLog: number, addedAtRisk: number): void;
  sumOfSquares(): number;
}

// A unit's eight numbers lie in one line of the cache: U, G, Y, and the running sums at its last change.
const STRIDE = 8;
// Everything that changes lives in typed arrays: numbers captured by a closure would be put on the heap at every change.
const [INCIDENCE, HAZARDS, PULLS, GROWN_HAZARDS] = [0, 1, 2, 3] as const;
const [UU, UG, GG, UY, GY, YY] = [0, 1, 2, 3, 4, 5] as const;

export function unitMotion(units: number): UnitMotion {
  const state = new Float64Array(STRIDE * units);
  const running = new Float64Array(4);
  const sums = new Float64Array(6);

  return {
    moveAll({ growth, pull, hazard }) {
      const [uu, ug, gg, uy, gy, yy] = [sums[UU]!, sums[UG]!, sums[GG]!, sums[UY]!, sums[GY]!, sums[YY]!];
      sums[UU] =
        uu +
        (growth * growth * gg + pull * pull * yy - 2 * growth * ug - 2 * pull * uy + 2 * growth * pull * gy);
      const newUy = uy - growth * gy - pull * yy;
      sums[UG] = ug - growth * gg - pull * gy - hazard * uy + growth * hazard * gy + pull * hazard * yy;
      sums[UY] = newUy;
      sums[GG] = gg - 2 * hazard * gy + hazard * hazard * yy;
      sums[GY] = gy - hazard * yy;
      running[GROWN_HAZARDS]! += growth * running[HAZARDS]!;
      running[INCIDENCE]! += growth;
      running[HAZARDS]! += hazard;
      running[PULLS]! += pull;
    },
    change(unit, addedInfluence, addedLog, addedAtRisk) {
      const at = STRIDE * unit;
      const [incidence, hazards, pulls] = [running[INCIDENCE]!, running[HAZARDS]!, running[PULLS]!];
      const grownHazards = running[GROWN_HAZARDS]!;
      const since = state[at + 4]!;
      const growth = incidence - state[at + 3]!;
      // Σ growth × (hazard gathered since the last change, up to just before each step).
      const behind = grownHazards - state[at + 6]! - growth * since;
      const y = state[at + 2]!;
      const g = state[at + 1]!;
      const u = state[at]! - growth * g + y * (behind - (pulls - state[at + 5]!));
      const caughtUp = g - y * (hazards - since);
      const [newU, newG, newY] = [u + addedInfluence, caughtUp + addedLog, y + addedAtRisk];
      sums[UU]! += newU * newU - u * u;
      sums[UG]! += newU * newG - u * caughtUp;
      sums[GG]! += newG * newG - caughtUp * caughtUp;
      sums[UY]! += newU * newY - u * y;
      sums[GY]! += newG * newY - caughtUp * y;
      sums[YY]! += newY * newY - y * y;
      state[at] = newU;
      state[at + 1] = newG;
      state[at + 2] = newY;
      state[at + 3] = incidence;
      state[at + 4] = hazards;
      state[at + 5] = pulls;
      state[at + 6] = grownHazards;
    },
    sumOfSquares: () => sums[UU]!,
  };
}
