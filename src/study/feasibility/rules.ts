/** Thresholds of the verdicts. Every one is printed, and every one can be set in the plan. */
export interface FeasibilityRules {
  /** Chance at which a ratio counts as seen. */
  readonly power: number;
  /** Least share recorded as done or not done, of the units to which the step applies. */
  readonly leastRecorded: number;
  /** Least share of the smaller group among those compared. */
  readonly leastShare: number;
  /** A surgeon, year or stratum has both where the share done lies from this to one minus this. */
  readonly margin: number;
  /** From this share of units at levels that have both, nothing is restricted. */
  readonly nearlyAll: number;
  /** Under this share of units at levels that have both, a restriction leaves too little. */
  readonly leastWithin: number;
  /** The largest ratio anybody would believe. */
  readonly largestRatio: number;
  /** Over this share of the step's variance between surgeons, the step counts as fixed within surgeon. */
  readonly fixedFrom: number;
  /** Fewest surgeons who mostly do the less frequent of the two. */
  readonly leastSurgeons: number;
  /** Intraclass correlation of the outcome within surgeon. */
  readonly intraclass: number;
  /** Calendar years that count as one period of operations. */
  readonly yearsInBlock: number;
  /** Years beyond which nobody waits. */
  readonly longestYears: number;
}

/**
 * The defaults are judgements.
 *
 * The intraclass correlation is about what surgeons whose hazards spread by 0.35 on the log scale give an outcome that
 * one unit in a hundred has: 0.01 · (e^(0.35²) − 1) = 0.0013.
 */
export const FEASIBILITY_RULES: FeasibilityRules = {
  power: 0.8,
  leastRecorded: 0.5,
  leastShare: 0.1,
  margin: 0.1,
  nearlyAll: 0.9,
  leastWithin: 0.2,
  largestRatio: 5,
  fixedFrom: 0.5,
  leastSurgeons: 5,
  intraclass: 0.001,
  yearsInBlock: 3,
  longestYears: 100,
};

/** The defaults with what a plan puts in their place. */
export function feasibilityRules(own: Partial<FeasibilityRules> = {}): FeasibilityRules {
  return { ...FEASIBILITY_RULES, ...own };
}

/**
 * What is wrong with a chance of being seen that is no larger than that of a false alarm in one direction.
 *
 * The chance of a false alarm is the one over all planned comparisons: divided among them it is smaller still.
 */
export function powerFault(
  own: Partial<FeasibilityRules> | undefined,
  falseAlarm: number,
): string | undefined {
  const { power } = feasibilityRules(own);
  if (power > falseAlarm / 2) return undefined;
  return `must be above ${Number((falseAlarm / 2).toPrecision(6))}, the chance of a false alarm in one direction; write 0.8 for 80 %`;
}
