import { renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { canonicalJson } from "../../base/content-hash.ts";
import { UsageError } from "../../base/errors.ts";
import { readCases } from "../../cases/read-cases.ts";
import { lockName } from "../../study/locking/lock-name.ts";
import { planChanges } from "../../study/locking/plan-changes.ts";
import {
  type LockStatements,
  lockPlan,
  lockStatements,
  lockText,
  type PlanLock,
  readLock,
} from "../../study/locking/plan-lock.ts";
import { type LoadedNotebook, loadNotebook } from "../../study/notebook/load-notebook.ts";
import { notebookFault } from "../../study/notebook/notebook-fault.ts";
import { exportPath, type NotebookSource } from "../../study/notebook/notebook-source.ts";
import type { Study } from "../../study/plan/define-study.ts";
import type { StudyPlan } from "../../study/plan/plan.ts";
import { requirePlan } from "../../study/plan/require-plan.ts";
import { EXIT } from "../exit-codes.ts";

export interface LockOptions {
  readonly depositedAt?: string;
  readonly depositedOn?: string;
  readonly exportHash?: string;
  readonly replace: boolean;
}

/** Fixes the plan of a notebook in a file beside it; a lock that stands is never changed unasked. */
export async function lock(path: string, options: LockOptions): Promise<number> {
  const { depositedAt, depositedOn, exportHash } = options;
  const stated = lockStatements({ depositedAt, depositedOn, exportHash });
  const { declared, source } = await loadNotebook(path);
  const { plan } = requireStudy(path, declared);
  await requireFit(path, plan, source);
  const file = join(source.folder, lockName(source.fileName));
  if (source.lock === undefined) {
    return write(file, lockPlan(plan, source, stated), "Locked");
  }
  const old = readLock(source.lock.text, file);
  if (options.replace) {
    return write(
      file,
      lockPlan(plan, source, stated, old),
      "Locked anew; the lock before it is named in the file",
    );
  }
  refuseChanges(file, planChanges(old.plan, plan));
  const added = withStatements(file, old, stated);
  const isNew = canonicalJson(added) !== canonicalJson(old);
  return write(file, added, isNew ? "Locked already; what you state was added" : "Locked already");
}

/** A plan may be locked before its export is there; where it is, the plan must fit it: a slip would stay on record. */
async function requireFit(path: string, plan: StudyPlan, source: NotebookSource): Promise<void> {
  const cases = await readCases(exportPath(plan, source)).catch((error: unknown) => {
    if (error instanceof UsageError) return undefined;
    throw error;
  });
  if (cases === undefined) {
    console.error("The export cannot be read here, so the plan was not held against it.");
    return;
  }
  try {
    requirePlan(cases, plan);
  } catch (error) {
    throw notebookFault(path, error, false);
  }
}

function requireStudy(path: string, declared: LoadedNotebook["declared"]): Study {
  if (declared.kind === "study") return declared;
  throw new UsageError(
    "no-plan-to-lock",
    `${path}: declares no study, so there is no plan of a comparison to lock; name a notebook with defineStudy({ … })`,
  );
}

function refuseChanges(file: string, changes: readonly string[]): void {
  if (changes.length === 0) return;
  throw new UsageError(
    "locked-otherwise",
    `${file}: holds another plan, and stays as it is. Changed since:\n${changes.map((line) => `  ${line}`).join("\n")}\n` +
      "A report lists these changes. To lock the plan anew, and have every report say so, add --replace.",
  );
}

/** What was stated once stays; what was not can be added later, for a lock is deposited after it was written. */
function withStatements(file: string, old: PlanLock, stated: LockStatements): PlanLock {
  const both = { ...stated, ...old.stated };
  if (canonicalJson(both) === canonicalJson({ ...both, ...stated })) return { ...old, stated: both };
  throw new UsageError(
    "stated-otherwise",
    `${file}: states something else already; leave that option out, or add --replace to lock the plan anew`,
  );
}

/** Whole or not at all. */
function write(file: string, lock: PlanLock, what: string): number {
  const fresh = `${file}.${process.pid}`;
  writeFileSync(fresh, lockText(lock), { flag: "wx" });
  renameSync(fresh, file);
  console.log(`${what}: ${file}`);
  console.log(`plan SHA-256 ${lock.planHash}`);
  console.log(`notebook's text SHA-256 ${lock.notebookHash}`);
  return EXIT.ok;
}
