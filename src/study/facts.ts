import type { Answer } from "../base/answer.ts";
import type { Findings } from "../base/finding.ts";
import type { TimeUnit } from "../base/time-unit.ts";
import type { ExportDescriptor } from "../cases/descriptor.ts";
import type { LockState } from "./locking/lock-state.ts";
import type { NotebookSource } from "./notebook/notebook-source.ts";
import type { RunHashes } from "./notebook/run-hashes.ts";
import type { StudyPlan } from "./plan/plan.ts";

/** What between-group intervals are clustered on, and why. */
export interface ClusterChoice {
  readonly by: "surgeon" | "patient" | "none";
  readonly clusters: number;
  /** Clusters of the group that has the fewest. */
  readonly fewestInGroup: number;
  readonly reason: string;
}

/**
 * What a notebook's own sections are told of a run: words, settings, hashes. Nothing in it counts cases, so all of it may
 * stand in a sentence.
 */
export interface SafeFacts extends Omit<StudyFacts, "findings" | "clusters"> {
  readonly clusters: Pick<ClusterChoice, "by">;
}

/**
 * Everything about a run that is not an estimate: words, settings, hashes, and what was found and counted on the way.
 *
 * `findings` and `clusters` hold exact counts and row numbers that disclosure control never saw: what is printed of them is
 * chosen by the section that prints it.
 */
export interface StudyFacts {
  readonly plan: StudyPlan;
  readonly descriptor: ExportDescriptor;
  readonly level: number;
  /** Comparisons among which the chance of a false alarm is divided, this study's own included. */
  readonly comparisons: number;
  readonly words: {
    readonly unit: { readonly one: string; readonly many: string };
    readonly person: { readonly one: string; readonly many: string };
    readonly event: { readonly one: string; readonly many: string };
  };
  readonly stamp: string | undefined;
  readonly exposureTitle: string;
  readonly groups: readonly string[];
  readonly cause: string;
  readonly competing: readonly string[];
  readonly timeUnit: TimeUnit;
  readonly crude: Answer<{ readonly allowed: true }>;
  readonly delayedEntry: boolean;
  /** False where the export holds durations only. */
  readonly hasDates: boolean;
  /** Days without contact before the data cut after which somebody alive and without the event counts as lost. */
  readonly lossDays: number;
  readonly clusters: ClusterChoice;
  readonly hashes: RunHashes;
  readonly planLock: LockState;
  readonly mantleVersion: string;
  readonly notebook: NotebookSource;
  readonly fileName: string;
  readonly findings: Findings;
}

/** Facts without counts. Taken out, not only by their type: a notebook need not be compiled with types. */
export function safeFacts({ findings: _, clusters, ...facts }: StudyFacts): SafeFacts {
  return { ...facts, clusters: { by: clusters.by } };
}
