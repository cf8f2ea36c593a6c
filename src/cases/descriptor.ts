import { z } from "zod";
import { LINKED_KINDS } from "./linkage-rules.ts";
import { RECORDED_STATES } from "./recorded-state.ts";
import { REVISION_REASONS } from "./revision-reasons.ts";
import { SERIAL_DATE_YEARS } from "./serial-day-cell.ts";

/**
 * The dictionary of an export: a Data Package v2 descriptor with Table Schema fields.
 *
 * Ours are `role` on a field; `state` and `outcome` on a category; and the `study` block of the package.
 * Everything else is the open standard.
 */
export const FIELD_TYPES = ["string", "integer", "number", "date", "boolean", "list"] as const;
export const TABLE_FORMATS = ["csv", "xlsx", "parquet"] as const;
export type TableFormat = (typeof TABLE_FORMATS)[number];
export const CAPTURES = ["national", "ownUnit", "unknown"] as const;
export type Capture = (typeof CAPTURES)[number];

const missingValue = z.union([
  z.string().transform((value) => ({ value, label: value === "" ? "blank" : value })),
  z.strictObject({ value: z.string(), label: z.string().min(1) }),
]);

const category = z.strictObject({
  value: z.union([z.string(), z.number()]).transform(String),
  label: z.string().optional(),
  /** Technique fields: which of the four recorded states this word means. */
  state: z.enum(RECORDED_STATES).optional(),
  /** Field with role `status`: the name of what ended follow-up; "censored" where nothing did. */
  outcome: z.string().min(1).optional(),
  /** What the field is about was not there: "none" of sclerosis, "uncemented" of fixation. */
  absent: z.boolean().optional(),
  /** Field with role `revisionReason`: which reason of the order the word means. */
  reason: z.enum(REVISION_REASONS).optional(),
});

const fieldNames = z.union([z.string().transform((name) => [name]), z.array(z.string()).min(1)]);
const foreignKey = z.looseObject({
  fields: fieldNames,
  reference: z.looseObject({ resource: z.string(), fields: fieldNames }),
});

export const fieldSchema = z.looseObject({
  name: z.string().min(1),
  title: z.string().optional(),
  description: z.string().optional(),
  type: z.enum(FIELD_TYPES),
  format: z.string().optional(),
  /** UCUM code. */
  unit: z.string().optional(),
  /** Mark between whole and fraction in a number field. Default ".". */
  decimalChar: z.enum([".", ","]).optional(),
  /** Dates: the first of the hundred years that a year of two digits (%y) means. */
  twoDigitYearsFrom: z.int().min(1800).max(2100).optional(),
  /** Dates: cells may hold a spreadsheet's serial numbers, counted from this year. */
  serialDates: z.literal(SERIAL_DATE_YEARS).optional(),
  role: z.string().optional(),
  /** Lists: the mark between items. Default ",". */
  delimiter: z.string().min(1).optional(),
  /** Why the column tells nothing about who a person is, although it looks as if it did. */
  notPersonal: z.string().min(10).optional(),
  categories: z.array(category).min(1).optional(),
  missingValues: z.array(missingValue).optional(),
  constraints: z
    .strictObject({
      required: z.boolean().optional(),
      unique: z.boolean().optional(),
      minimum: z.union([z.number(), z.string()]).optional(),
      maximum: z.union([z.number(), z.string()]).optional(),
    })
    .optional(),
});

export const studySchema = z.strictObject({
  /** True where no row describes a real person; then every page, figure and file is stamped. */
  invented: z.boolean(),
  /** Text of the stamp, required where `invented` is true. */
  stamp: z.string().optional(),
  /** The unit of analysis in the export's own words. */
  unit: z.strictObject({ one: z.string(), many: z.string() }),
  /** Who owns the units: patients with two knees. */
  person: z.strictObject({ one: z.string(), many: z.string() }),
  /** True where the cautions of cemented knee replacement belong in the report. */
  cementedKnees: z.boolean(),
  dataCut: z.string().optional(),
  revisionCapture: z.enum(CAPTURES),
  deathCapture: z.enum(CAPTURES),
  /** What counts as a revision, in a sentence: insert exchange, secondary patella. */
  revisionMeans: z.string().optional(),
  exactDates: z.boolean(),
  governance: z
    .strictObject({
      purpose: z.string().optional(),
      approval: z.string().optional(),
      legalBasis: z.string().optional(),
      retention: z.string().optional(),
      authors: z.array(z.string()).optional(),
      statisticalReviewer: z.string().optional(),
      funding: z.string().optional(),
      conflicts: z.string().optional(),
    })
    .default({}),
});

export const descriptorSchema = z.looseObject({
  $schema: z.string().optional(),
  name: z.string().min(1),
  title: z.string().min(1),
  description: z.string().optional(),
  version: z.string().optional(),
  sources: z.array(z.looseObject({ title: z.string() })).optional(),
  resources: z
    .array(
      z.looseObject({
        name: z.string(),
        /** One file, or several with the same columns. */
        path: z.union([z.string().min(1), z.array(z.string().min(1)).min(1)]),
        format: z.enum(TABLE_FORMATS).optional(),
        /** What a second table brings to the cases. */
        holds: z.enum(LINKED_KINDS).optional(),
        encoding: z.string().optional(),
        /** An apostrophe stands before texts that a spreadsheet would run; reading takes it off again. */
        textGuard: z.literal("apostrophe").optional(),
        dialect: z
          .looseObject({
            delimiter: z.string().length(1).optional(),
            quoteChar: z.string().length(1).optional(),
            /** Workbooks: which sheet; the first one where neither is stated. */
            sheetName: z.string().min(1).optional(),
            sheetNumber: z.int().min(1).optional(),
          })
          .optional(),
        schema: z.looseObject({
          fields: z.array(fieldSchema).min(1),
          missingValues: z.array(missingValue).optional(),
          foreignKeys: z.array(foreignKey).optional(),
        }),
      }),
    )
    .min(1),
  study: studySchema,
});

export type ExportDescriptor = z.output<typeof descriptorSchema>;
export type ExportField = z.output<typeof fieldSchema>;
export type ExportStudy = z.output<typeof studySchema>;
