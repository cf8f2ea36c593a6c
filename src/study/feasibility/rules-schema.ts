import { z } from "zod";

/** Strictly between 0 and 1. */
export const share = z.number().gt(0).lt(1);
/** A ratio that is a difference. */
export const ratio = z
  .number()
  .positive()
  .refine((value) => value !== 1, "must not be 1: a ratio of 1 is no difference");

/** Thresholds of the verdicts, each of them optional. */
export const rulesSchema = z.strictObject({
  power: share.optional(),
  leastRecorded: z.number().gte(0).lte(1).optional(),
  leastShare: z.number().gte(0).lte(0.5).optional(),
  margin: z.number().gte(0).lte(0.5).optional(),
  nearlyAll: z.number().gte(0).lte(1).optional(),
  leastWithin: z.number().gte(0).lte(1).optional(),
  largestRatio: z.number().gt(1).optional(),
  fixedFrom: z.number().gte(0).lte(1).optional(),
  leastSurgeons: z.number().int().nonnegative().optional(),
  intraclass: z.number().gte(0).lte(1).optional(),
  yearsInBlock: z.number().int().positive().optional(),
  longestYears: z.number().positive().optional(),
});
