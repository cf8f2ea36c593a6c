import { contentHash } from "../../base/content-hash.ts";
import type { ImportedFile } from "../notebook/imported-files.ts";
import type { NotebookSource } from "../notebook/notebook-source.ts";
import type { StudyPlan } from "../plan/plan.ts";
import { planChanges } from "./plan-changes.ts";
import { type LockStatements, planHash, readLock } from "./plan-lock.ts";

/** How the plan of a run stands to the one that was locked. Safe to print: an author typed all of it. */
export type LockState =
  | { readonly state: "not locked" }
  | {
      readonly state: "as locked" | "changed since it was locked";
      readonly file: string;
      /** Of the locked plan: what a deposited copy must have. */
      readonly planHash: string;
      /** Every change since, in words. */
      readonly changes: readonly string[];
      /** Comments, layout, own sections or anything else of the notebook's own file beside the plan. */
      readonly textChanged: boolean;
      /** What it imports: each file that is new, gone or has other bytes, or that the lock says nothing about them. */
      readonly imports:
        | { readonly locked: false }
        | { readonly locked: true; readonly changed: readonly string[] };
      /** Typed by the author, checked by nobody. */
      readonly stated: LockStatements;
      /** Plans of earlier locks that this one took the place of. */
      readonly replaced: readonly string[];
    };

/** Holds a plan against the lock beside its notebook. */
export function lockState(plan: StudyPlan, { lock, source, imported = [] }: NotebookSource): LockState {
  if (lock === undefined) return { state: "not locked" };
  const locked = readLock(lock.text, lock.fileName);
  return {
    state: planHash(plan) === locked.planHash ? "as locked" : "changed since it was locked",
    file: lock.fileName,
    planHash: locked.planHash,
    changes: planChanges(locked.plan, plan),
    textChanged: contentHash(source) !== locked.notebookHash,
    imports:
      locked.imported === undefined
        ? { locked: false }
        : { locked: true, changed: changedFiles(locked.imported, imported) },
    stated: locked.stated,
    replaced: locked.replaced.map((former) => former.planHash),
  };
}

function changedFiles(one: readonly ImportedFile[], two: readonly ImportedFile[]): readonly string[] {
  const [before, after] = [one, two].map((files) => new Map(files.map(({ file, hash }) => [file, hash])));
  const names = [...new Set([...one, ...two].map(({ file }) => file))].sort();
  return names.filter((name) => before?.get(name) !== after?.get(name));
}
