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
 * later step from three running sums.
 */
export interface UnitMotion {
  moveAll(sizes: StepSizes): void;
  change(unit: number, addedInfluence: number, addedLog: number, addedAtRisk: number): void;
  sumOfSquares(): number;
}

export function unitMotion(units: number): UnitMotion {
  const influence = new Float64Array(units);
  const log = new Float64Array(units);
  const atRisk = new Float64Array(units);
  // Running sums at the unit's last change.
  const seen = [
    new Float64Array(units),
    new Float64Array(units),
    new Float64Array(units),
    new Float64Array(units),
  ] as const;
  let [incidence, hazards, pulls, grownHazards] = [0, 0, 0, 0];
  let [uu, ug, gg, uy, gy, yy] = [0, 0, 0, 0, 0, 0];

  function catchUp(unit: number): void {
    const [seenIncidence, seenHazards, seenPulls, seenGrown] = seen;
    const y = atRisk[unit] ?? 0;
    const since = seenHazards[unit] ?? 0;
    const growth = incidence - (seenIncidence[unit] ?? 0);
    // Σ growth × (hazard gathered since the last change, up to just before each step).
    const behind = grownHazards - (seenGrown[unit] ?? 0) - growth * since;
    influence[unit]! += -growth * (log[unit] ?? 0) + y * (behind - (pulls - (seenPulls[unit] ?? 0)));
    log[unit]! -= y * (hazards - since);
    seenIncidence[unit] = incidence;
    seenHazards[unit] = hazards;
    seenPulls[unit] = pulls;
    seenGrown[unit] = grownHazards;
  }

  function count(unit: number, sign: 1 | -1): void {
    const [u, g, y] = [influence[unit] ?? 0, log[unit] ?? 0, atRisk[unit] ?? 0];
    uu += sign * u * u;
    ug += sign * u * g;
    gg += sign * g * g;
    uy += sign * u * y;
    gy += sign * g * y;
    yy += sign * y * y;
  }

  return {
    moveAll({ growth, pull, hazard }) {
      uu +=
        growth * growth * gg + pull * pull * yy - 2 * growth * ug - 2 * pull * uy + 2 * growth * pull * gy;
      ug += -growth * gg - pull * gy - hazard * uy + growth * hazard * gy + pull * hazard * yy;
      uy += -growth * gy - pull * yy;
      gg += -2 * hazard * gy + hazard * hazard * yy;
      gy += -hazard * yy;
      grownHazards += growth * hazards;
      incidence += growth;
      hazards += hazard;
      pulls += pull;
    },
    change(unit, addedInfluence, addedLog, addedAtRisk) {
      catchUp(unit);
      count(unit, -1);
      influence[unit]! += addedInfluence;
      log[unit]! += addedLog;
      atRisk[unit]! += addedAtRisk;
      count(unit, 1);
    },
    sumOfSquares: () => uu,
  };
}
