import { z } from "zod";
import { contentHash } from "../../base/content-hash.ts";
import { UsageError } from "../../base/errors.ts";
import { AUDIENCES } from "../../disclosure/audience.ts";
import type { ClearedCell, ClearedCurve } from "../../disclosure/cleared.ts";
import { CURVE_DRAWINGS } from "../../disclosure/cleared.ts";
import type { HeldReport } from "../../disclosure/held/held-report.ts";
import { definitionOf } from "./definition-of.ts";

export type { HeldReport };

const cell = z
  .object({
    text: z.string(),
    values: z.array(z.number()),
    hidden: z.boolean(),
    coarse: z.number().optional(),
    asBefore: z.literal(true).optional(),
  })
  .transform(({ coarse, asBefore, ...rest }): ClearedCell => {
    return { ...rest, ...(coarse === undefined ? {} : { coarse }), ...(asBefore ? { asBefore } : {}) };
  });
const cells = z.array(cell);
const table = z.object({
  kind: z.literal("table"),
  id: z.string(),
  columns: z.array(z.object({ id: z.string(), label: z.string() })),
  rows: z.array(z.object({ label: z.string(), heading: z.boolean(), indent: z.number(), cells })),
});
const limits = z.array(z.number().nullable());
const line = z
  .object({
    label: z.string(),
    style: z.number(),
    time: z.array(z.number()),
    value: z.array(z.number()),
    low: limits,
    high: limits,
    drawnTo: z.number(),
  })
  .transform((one): ClearedCurve => one);
const landmarks = z
  .object({
    label: z.string(),
    atRisk: cells,
    events: cells,
    censored: cells,
    competing: cells.optional(),
  })
  .transform(({ competing, ...rest }) => (competing === undefined ? rest : { ...rest, competing }));
const curves = z.object({
  kind: z.literal("curves"),
  id: z.string(),
  timeUnit: z.object({ perYear: z.number() }),
  years: z.array(z.number()),
  drawing: z.enum(CURVE_DRAWINGS),
  curves: z.array(line),
  landmarks: z.array(landmarks),
});
const size = { label: z.string(), units: cell, persons: cell.optional() };
const sized = z
  .object(size)
  .transform(({ persons, ...rest }) => (persons === undefined ? rest : { ...rest, persons }));
const box = z
  .object({ ...size, removed: z.array(sized) })
  .transform(({ persons, ...rest }) => (persons === undefined ? rest : { ...rest, persons }));
const flow = z.object({
  kind: z.literal("flow"),
  id: z.string(),
  boxes: z.array(box),
  groups: z.array(sized),
});
const lines = z.object({ kind: z.literal("lines"), id: z.string() });
const toldCount = z
  .object({
    key: z.string(),
    low: z.number().optional(),
    high: z.number().optional(),
    where: z.string().optional(),
  })
  .transform(({ key, low, high, where }) => ({
    key,
    ...(low === undefined || high === undefined ? {} : { low, high }),
    ...(where === undefined ? {} : { where }),
  }));
const results = z.object({
  id: z.string(),
  mantle: z.string().optional(),
  plan: z.unknown(),
  settings: z.record(z.string(), z.unknown()).optional(),
  audience: z.enum(AUDIENCES),
  threshold: z.number(),
  told: z.object({ counts: z.array(toldCount), sums: z.array(z.string().regex(/^\d+=\d+(\+\d+)*$/)) }),
  exhibits: z.array(z.discriminatedUnion("kind", [table, curves, flow, lines])),
});

/** What a report's results.json tells about its counts, or undefined where it does not say. */
export function readHeldReport(text: string): HeldReport | undefined {
  const parsed = results.safeParse(parsedJson(text));
  if (!parsed.success) return undefined;
  const { mantle, plan, settings, ...rest } = parsed.data;
  const definition =
    mantle === undefined ? undefined : definitionOf({ ...settings, plan, mantleVersion: mantle });
  return { ...rest, hash: contentHash(text), ...(definition === undefined ? {} : { definition }) };
}

/**
 * A report that the readers of the next one hold already.
 *
 * @throws UsageError where it is an analysts' copy, whose readers nothing can be kept from, or says nothing about its counts.
 */
export function heldReport(folder: string, text: string): HeldReport {
  const audience = audienceIn(parsedJson(text));
  if (audience === "analyst") {
    throw new UsageError(
      "held-by-analysts",
      `--readers-hold ${folder}: an analysts' copy, which shows every count; name the copy that was given to these readers`,
    );
  }
  const held = readHeldReport(text);
  if (held !== undefined) return held;
  throw new UsageError(
    "held-unreadable",
    `--readers-hold ${folder}: its results.json does not say what its counts are; make that report again with this version, from its own export and plan`,
  );
}

function parsedJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function audienceIn(record: unknown): unknown {
  return typeof record === "object" && record !== null && "audience" in record ? record.audience : undefined;
}
