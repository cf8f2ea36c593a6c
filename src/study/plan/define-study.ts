import { z } from "zod";
import type { PlanFault } from "../../base/plan-fault.ts";
import { CENSORING_RULES } from "../../cohort/endpoint.ts";
import { NAMED_WEIGHTINGS } from "../../survival/log-rank-weighting.ts";
import type { ExportWords } from "../authoring/export-words.ts";
import type { PlanFor } from "../authoring/plan-for.ts";
import { ratio, rulesSchema } from "../feasibility/rules-schema.ts";
import type { OwnSection } from "../making/own-section.ts";
import { TAKEN_IDS } from "../sections/section-ids.ts";
import { CLUSTER_CHOICES, SETTLED, type StudyPlan } from "./plan.ts";
import { planContradictions } from "./plan-contradictions.ts";
import { shapeFaults } from "./plan-issues.ts";
import { refusePlaces } from "./refuse-places.ts";

/** A plan whose shape was checked. Nothing was read or computed yet. */
export interface Study {
  readonly kind: "study";
  readonly plan: StudyPlan;
  /** Sections that the notebook brings with it. No part of the plan: they show, they decide nothing. */
  readonly sections?: readonly OwnSection[];
}

/** A plan, and what the notebook shows beside the standard sections. */
export type StudyDeclaration<Words extends ExportWords> = PlanFor<Words> & {
  readonly sections?: readonly OwnSection[];
};

const SLUG = /^[a-z0-9]+(-[a-z0-9]+)*$/;

export const words = z.string().trim().min(1);
export const outcome = z.union(
  [
    z.strictObject({
      label: words,
      revisionFor: z.union([z.array(words).min(1), z.literal("any"), z.literal("other")]),
    }),
    z.strictObject({ label: words, death: z.literal(true) }),
    z.strictObject({ label: words, status: words }),
  ],
  {
    error:
      'must be { label, revisionFor } with a list of reasons, "any" or "other"; { label, death: true }; ' +
      "or { label, status }",
  },
);
const exposure = z.union(
  [
    z.strictObject({
      step: words,
      labels: z.strictObject({ done: words, notDone: words }).optional(),
    }),
    z.strictObject({ field: words, groups: z.array(words).min(2) }),
  ],
  {
    error:
      "must be { step }, with labels { done, notDone } if wanted, or { field, groups } with at least two groups",
  },
);
const bound = z.union([z.number(), words], { error: "must be a number or an ISO date such as 2015-01-31" });
export const eligibility = z.strictObject({
  label: words,
  field: words,
  oneOf: z.array(words).min(1).optional(),
  from: bound.optional(),
  to: bound.optional(),
  missing: z.enum(["exclude", "keep"]).optional(),
});
export const ascendingYears = z
  .array(z.number().positive("must be a number of years above 0"))
  .refine(
    (years) => years.every((year, at) => at === 0 || year > (years[at - 1] ?? 0)),
    "must rise from one to the next",
  );

const weighting = z.union(
  [
    z.enum(NAMED_WEIGHTINGS),
    z.strictObject({ early: z.number().nonnegative(), late: z.number().nonnegative() }),
  ],
  { error: `must be one of ${NAMED_WEIGHTINGS.join(", ")}, or { early, late } with powers from 0 up` },
);
const rateBand = z.strictObject({
  sex: words,
  fromAge: z.number().int().nonnegative(),
  toAge: z.number().int().nonnegative().optional(),
  fromYear: z.number().int(),
  toYear: z.number().int(),
  per100: z.number().nonnegative(),
});

const adjuster = z.strictObject({
  field: words,
  settled: z.enum(SETTLED),
  reason: words,
  curve: z.literal(true).optional(),
  reference: words.optional(),
});

const planSchema = z.strictObject({
  id: z.string().regex(SLUG, "must be lower-case words joined by hyphens"),
  title: words,
  question: words,
  export: words,
  eligibility: z.array(eligibility),
  exposure,
  endpoint: z.strictObject({
    event: outcome,
    competing: z.array(outcome),
    censoring: z.enum(CENSORING_RULES),
  }),
  eventWords: z.strictObject({ one: words, many: words }).optional(),
  years: ascendingYears.min(1),
  periods: ascendingYears,
  clusters: z.enum(CLUSTER_CHOICES).optional(),
  covariates: z.array(words),
  adjusters: z.array(adjuster).min(1).optional(),
  smallestDifferenceThatMatters: z.strictObject({ per1000: z.number().positive(), reason: words }),
  groupsAreOrdered: z.literal(true).optional(),
  weighting: weighting.optional(),
  expectedRates: z.strictObject({ source: words, bands: z.array(rateBand).min(1) }).optional(),
  lossDays: z.number().int().nonnegative().optional(),
  level: z
    .number()
    .gt(0.5, "must be above 0.5, as 0.95 for 95 %: what it leaves is the chance of a false alarm")
    .lt(1)
    .optional(),
  plannedComparisons: z.number().int().positive().optional(),
  feasibility: rulesSchema
    .extend({ strata: z.array(words).optional(), ratioThatMatters: ratio.optional() })
    .optional(),
  // Taken out of the plan before it is looked at; here so that a message knows the word.
  sections: z.undefined().optional(),
});

/**
 * Declares a study: the question, who is studied, what is compared and what is counted.
 *
 * Only the shape is checked here; whether the export has the fields is checked when the study runs. Importing a
 * notebook therefore runs nothing.
 *
 * `sections` are the notebook's own: words, tables and figures that pass disclosure control like all others.
 *
 * `defineStudy<Words>(…)` with the types that `mantle new` writes for an export lets an editor offer its steps, fields and
 * codes, and a compiler refuse any other.
 *
 * @throws ArgumentError listing every place of the plan that is not as it should be, or not decided yet.
 *
 * @example
 * defineStudy({
 *   id: "tourniquet",
 *   title: "Tourniquet and revision",
 *   question: "Are knees operated with a tourniquet revised more often?",
 *   export: "../data/demo/datapackage.json",
 *   eligibility: [{ label: "osteoarthritis", field: "role:diagnosis", oneOf: ["osteoarthritis"] }],
 *   exposure: { step: "tourniquet" },
 *   endpoint: {
 *     event: { label: "revision", revisionFor: "any" },
 *     competing: [{ label: "death", death: true }],
 *     censoring: "dataCut",
 *   },
 *   years: [5, 10],
 *   periods: [3, 5],
 *   covariates: ["role:ageYears", "role:sex"],
 *   smallestDifferenceThatMatters: { per1000: 5, reason: "agreed beforehand" },
 * }).kind; // "study"
 */
export function defineStudy<Words extends ExportWords = ExportWords>(
  declaration: StudyDeclaration<NoInfer<Words>>,
): Study {
  const { sections, ...plan }: StudyPlan & { readonly sections?: readonly OwnSection[] } = declaration;
  const ofSections = sectionFaults(sections ?? []);
  const ofShape = shapeFaults(planSchema, plan);
  // Only a plan of the right shape can be asked whether its parts agree.
  const ofParts = ofShape.length > 0 ? [] : planContradictions(plan);
  refusePlaces("defineStudy", [...ofShape, ...ofParts, ...ofSections]);
  return sections === undefined ? { kind: "study", plan } : { kind: "study", plan, sections };
}

function sectionFaults(sections: readonly OwnSection[]): PlanFault[] {
  const ids = sections.map(({ id }) => id);
  return ids.flatMap((written, at): PlanFault[] => {
    const fault = { code: "section-id", place: `sections[${at}].id`, written };
    if (TAKEN_IDS.includes(written)) {
      const what = `the id "${written}" belongs to a standard part of the report; name the section otherwise`;
      return [{ ...fault, what, known: { heading: "Ids that are taken", words: TAKEN_IDS } }];
    }
    if (SLUG.test(written) && ids.indexOf(written) === at) return [];
    const what = `must be lower-case words joined by hyphens, and its own; received "${written}"`;
    return [{ ...fault, what }];
  });
}
