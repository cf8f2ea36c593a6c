import { z } from "zod";
import { canonicalJson, contentHash } from "../../base/content-hash.ts";
import { dayNumber } from "../../base/day-number.ts";
import { UsageError } from "../../base/errors.ts";
import { mantleVersion } from "../notebook/mantle-version.ts";
import type { NotebookSource } from "../notebook/notebook-source.ts";
import type { StudyPlan } from "../plan/plan.ts";

const hash = z.string().regex(/^[0-9a-f]{64}$/, "must be a SHA-256 of 64 signs, 0–9 and a–f");
const statements = z.strictObject({
  depositedAt: z.string().trim().min(1, "must not be empty; leave it out").optional(),
  depositedOn: z
    .string()
    .refine((text) => dayNumber(text) !== undefined, "must be a date such as 2026-01-31")
    .optional(),
  exportHash: hash.optional(),
});
const importedFile = z.strictObject({ file: z.string(), hash });
const former = z.strictObject({ planHash: hash, notebookHash: hash, stated: statements });
const schema = z.strictObject({
  kind: z.literal("plan lock"),
  mantle: z.string(),
  notebook: z.string(),
  planHash: hash,
  notebookHash: hash,
  /** Locks of former versions do not have it. */
  imported: z.array(importedFile).optional(),
  stated: statements,
  replaced: z.array(former),
  plan: z.record(z.string(), z.unknown()),
});

/** What an author says about a lock. Nobody checked it. */
export interface LockStatements {
  readonly depositedAt?: string | undefined;
  /** ISO date. */
  readonly depositedOn?: string | undefined;
  /** SHA-256 of the export that is meant to be analysed. */
  readonly exportHash?: string | undefined;
}

/** A plan as it was fixed, in a file beside its notebook. No clock was asked. */
export type PlanLock = z.output<typeof schema>;

/** SHA-256 of a plan's canonical JSON. */
export function planHash(plan: unknown): string {
  return contentHash(canonicalJson(plan));
}

/** Fixes a plan. Locks that this one takes the place of stay named in it. */
export function lockPlan(
  plan: StudyPlan,
  notebook: NotebookSource,
  stated: LockStatements,
  former?: PlanLock,
): PlanLock {
  const before =
    former === undefined
      ? []
      : [
          ...former.replaced,
          { planHash: former.planHash, notebookHash: former.notebookHash, stated: former.stated },
        ];
  return {
    kind: "plan lock",
    mantle: mantleVersion(),
    notebook: notebook.fileName,
    planHash: planHash(plan),
    notebookHash: contentHash(notebook.source),
    imported: [...(notebook.imported ?? [])],
    stated,
    replaced: before,
    // As canonical JSON has it: no undefined members, keys in order.
    plan: JSON.parse(canonicalJson(plan)),
  };
}

/** The file of a lock. */
export function lockText(lock: PlanLock): string {
  return `${JSON.stringify(lock, null, 2)}\n`;
}

/**
 * Reads the file of a lock.
 *
 * @throws UsageError where it is no lock, or where the plan in it does not have the hash in it.
 */
export function readLock(text: string, path: string): PlanLock {
  const parsed = schema.safeParse(asJson(text));
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    const place = issue?.path.join(".") ?? "";
    throw damaged(path, place === "" ? "is no lock of a plan" : `${place} is not as a lock has it`);
  }
  if (planHash(parsed.data.plan) !== parsed.data.planHash) {
    throw damaged(path, "the plan in it does not have the hash in it: one of them was changed by hand");
  }
  return parsed.data;
}

/**
 * What an author typed about a lock.
 *
 * @throws UsageError naming the option that is not as it should be.
 */
export function lockStatements(typed: Readonly<Record<string, string | undefined>>): LockStatements {
  const given = Object.fromEntries(Object.entries(typed).filter(([, value]) => value !== undefined));
  const parsed = statements.safeParse(given);
  if (parsed.success) return parsed.data;
  const issue = parsed.error.issues[0];
  const option = String(issue?.path[0]).replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
  throw new UsageError("not-a-statement", `--${option}: ${issue?.message}`);
}

function asJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function damaged(path: string, what: string): UsageError {
  return new UsageError(
    "lock-damaged",
    `${path}: ${what}; put back the file that was deposited, or remove it and lock the plan again`,
  );
}
