import { z } from "zod";
import type { PlanFault } from "../../base/plan-fault.ts";
import { numbered } from "../../base/words.ts";
import { TECHNIQUE_STEPS } from "../../cases/roles.ts";
import { CENSORING_RULES } from "../../cohort/endpoint.ts";
import { ascendingYears, eligibility, outcome, words } from "../plan/define-study.ts";
import { shapeFaults } from "../plan/plan-issues.ts";
import { comparisonsFault } from "../plan/planned-comparisons.ts";
import { refusePlaces } from "../plan/refuse-places.ts";
import type { FeasibilityPlan } from "./plan.ts";
import { powerFault } from "./rules.ts";
import { ratio, rulesSchema, share } from "./rules-schema.ts";

/** A plan of questions whose shape was checked. Nothing was read or computed yet. */
export interface FeasibilityStudy {
  readonly kind: "feasibility";
  readonly plan: FeasibilityPlan;
}

const matters = z.union(
  [
    z.strictObject({ per1000: z.number().gt(0).lt(1000), reason: words }),
    z.strictObject({ ratio, reason: words }),
  ],
  { error: "must be { per1000, reason } or { ratio, reason }; a ratio of 1 is no difference" },
);

const measure = z.union(
  [
    z.strictObject({ label: words, difference: z.number(), standardDeviation: z.number().positive() }),
    z.strictObject({ label: words, proportions: z.tuple([share, share]) }),
  ],
  { error: "must be { label, difference, standardDeviation } or { label, proportions }" },
);

const planSchema = z.strictObject({
  id: z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, "must be lower-case words joined by hyphens"),
  title: words,
  export: words,
  eligibility: z.array(eligibility),
  steps: z.array(z.enum(TECHNIQUE_STEPS)).min(1).optional(),
  outcomes: z
    .array(
      z.strictObject({
        endpoint: z.strictObject({
          event: outcome,
          competing: z.array(outcome),
          censoring: z.enum(CENSORING_RULES),
        }),
        year: z.number().positive(),
        smallestDifferenceThatMatters: matters,
        periods: ascendingYears.optional(),
      }),
    )
    .min(1)
    .refine(
      (all) => new Set(all.map(({ endpoint }) => endpoint.event.label)).size === all.length,
      "name each outcome once",
    ),
  strata: z.array(words).optional(),
  plannedComparisons: z.number().int().positive().optional(),
  falseAlarm: z.number().gt(0).lt(0.5).optional(),
  rules: rulesSchema.optional(),
  otherMeasures: z.array(measure).optional(),
});

/**
 * Declares which questions are asked of an export before any model: the steps, the outcomes, what would matter.
 *
 * @throws ArgumentError listing every place of the plan that is not as it should be.
 *
 * @example
 * defineFeasibility({
 *   id: "what-first",
 *   title: "What can be asked first?",
 *   export: "../data/demo/datapackage.json",
 *   eligibility: [],
 *   outcomes: [
 *     {
 *       endpoint: {
 *         event: { label: "revision", revisionFor: "any" },
 *         competing: [{ label: "death", death: true }],
 *         censoring: "dataCut",
 *       },
 *       year: 10,
 *       smallestDifferenceThatMatters: { ratio: 2, reason: "twice as many would change what is done" },
 *     },
 *   ],
 * }).kind; // "feasibility"
 */
export function defineFeasibility(plan: FeasibilityPlan): FeasibilityStudy {
  const ofShape = shapeFaults(planSchema, plan);
  refusePlaces("defineFeasibility", ofShape.length > 0 ? ofShape : contradictions(plan));
  return { kind: "feasibility", plan };
}

function contradictions(plan: FeasibilityPlan): PlanFault[] {
  const { rules, falseAlarm = 0.05, steps, outcomes, plannedComparisons } = plan;
  const code = "plan-contradicts-itself";
  const power = powerFault(rules, falseAlarm);
  // Where no step is named all are looked at, and how many of them will be asked about is what the plan states.
  const asked = outcomes.length * (steps?.length ?? 1);
  const of = steps === undefined ? "at least one for each outcome" : "each step and outcome";
  const why = `${numbered(asked, "question")} (${of}) ${asked === 1 ? "is" : "are"} asked`;
  const comparisons = comparisonsFault(plannedComparisons, asked, why);
  return [
    ...(power === undefined ? [] : [{ code, place: "rules.power", what: power }]),
    ...(comparisons === undefined ? [] : [{ code, place: "plannedComparisons", what: comparisons }]),
  ];
}
