import { z } from "zod";
import { dayNumber } from "../../base/day-number.ts";
import { TECHNIQUE_STEPS } from "../../cases/roles.ts";
import { eligibility, words } from "../plan/define-study.ts";
import { shapeFaults } from "../plan/plan-issues.ts";
import { refusePlaces } from "../plan/refuse-places.ts";
import type { AdherencePlan } from "./plan.ts";

/** A plan of an audit whose shape was checked. Nothing was read or computed yet. */
export interface AdherenceStudy {
  readonly kind: "adherence";
  readonly plan: AdherencePlan;
}

const step = z.enum(TECHNIQUE_STEPS);
const steps = z
  .array(step)
  .min(1)
  .refine((all) => new Set(all).size === all.length, "must name each step once");
const percent = z
  .number()
  .gte(0, "must be per cent, from 0 to 100")
  .lte(100, "must be per cent, from 0 to 100");

const standard = z.union(
  [
    z.strictObject({
      step,
      reason: words,
      percentAtLeast: percent.gt(0, "must be above 0: at least 0 % is no standard"),
    }),
    z.strictObject({
      step,
      reason: words,
      percentAtMost: percent.lt(100, "must be below 100: at most 100 % is no standard"),
    }),
  ],
  {
    error:
      "must be { step, percentAtLeast, reason } or { step, percentAtMost, reason }, with a step that exists and per cent from 0 to 100",
  },
);

const planSchema = z
  .strictObject({
    id: z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, "must be lower-case words joined by hyphens"),
    title: words,
    question: words,
    export: words,
    eligibility: z.array(eligibility),
    steps: steps.optional(),
    standards: z
      .array(standard)
      .refine(
        (all) => new Set(all.map((one) => one.step)).size === all.length,
        "must set one standard for a step, not two",
      ),
    together: steps.min(2, "must list at least 2: one step alone stands in the first table").optional(),
    change: z
      .strictObject({
        on: z.string().refine((text) => dayNumber(text) !== undefined, "must be a date such as 2020-01-31"),
        what: words,
      })
      .optional(),
    yearsInBlock: z.number().int().positive().optional(),
    strata: z
      .array(words)
      .refine((all) => new Set(all).size === all.length, "must name each field once")
      .optional(),
    level: z.number().gt(0.5).lt(1).optional(),
    fewestRecorded: z.number().int().positive().optional(),
  })
  .superRefine(({ steps: looked, standards, together }, context) => {
    if (looked === undefined) return;
    const named: readonly (readonly [string, readonly string[]])[] = [
      ["standards", standards.map((one) => one.step)],
      ["together", together ?? []],
    ];
    for (const [place, all] of named) {
      const unlisted = all.filter((one) => !looked.some((other) => other === one));
      if (unlisted.length === 0) continue;
      context.addIssue({
        code: "custom",
        path: [place],
        message: `names ${unlisted.map((one) => `"${one}"`).join(", ")}, which "steps" leaves out; add it there, or leave "steps" out to take all`,
      });
    }
  });

/**
 * Declares an audit of steps: does the unit do what it says it does?
 *
 * Only the shape is checked here. No outcome is needed in the export; where revisions have dates, they settle which records were
 * written too late to count.
 *
 * @throws ArgumentError listing every place of the plan that is not as it should be.
 *
 * @example
 * defineAdherence({
 *   id: "what-we-do",
 *   title: "What we do",
 *   question: "Do we do what we say we do?",
 *   export: "../data/demo/datapackage.json",
 *   eligibility: [],
 *   standards: [{ step: "pulsedLavage", percentAtLeast: 95, reason: "agreed in the unit" }],
 * }).kind; // "adherence"
 */
export function defineAdherence(plan: AdherencePlan): AdherenceStudy {
  refusePlaces("defineAdherence", shapeFaults(planSchema, plan));
  return { kind: "adherence", plan };
}
