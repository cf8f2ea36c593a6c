import { contentHash } from "../../base/content-hash.ts";
import type { Cases } from "../../cases/cases.ts";
import { planHash } from "../locking/plan-lock.ts";
import { lockFileHash } from "./mantle-version.ts";
import type { NotebookSource } from "./notebook-source.ts";

/** What a run was made from, each by its SHA-256. */
export interface RunHashes {
  readonly export: string;
  readonly descriptor: string;
  /** Of the plan alone, as its lock has it. */
  readonly plan: string;
  /** Of the notebook's text. */
  readonly notebook: string;
  /** Of the lock file of the packages. */
  readonly lock: string;
}

export function runHashes({ source }: Cases, plan: unknown, notebook: NotebookSource): RunHashes {
  return {
    export: source.fileHash,
    descriptor: source.descriptorHash,
    plan: planHash(plan),
    notebook: contentHash(notebook.source),
    lock: lockFileHash(),
  };
}
