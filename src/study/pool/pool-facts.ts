import { type Answer, computed, notComputed } from "../../base/answer.ts";
import { TIME_UNITS, type TimeUnit } from "../../base/time-unit.ts";
import type { CountsFile } from "../../cases/read-counts.ts";
import type { CountsDescriptor } from "../../cases/read-counts-descriptor.ts";
import { lockFileHash, mantleVersion } from "../notebook/mantle-version.ts";
import type { PooledCounts } from "./pool-counts.ts";

/** What a person asks of counts. */
export interface PoolQuestion {
  /** Years at which risks are printed, rising. */
  readonly years: readonly number[];
  /** Upper ends of the rate periods in years, rising; the last period is open. */
  readonly periods: readonly number[];
}

/** Everything about pooled counts that is not a statistic of them. Safe to print. */
export interface PoolFacts extends PoolQuestion {
  readonly descriptors: readonly CountsDescriptor[];
  readonly sources: readonly CountsFile["source"][];
  readonly words: { readonly unit: Words; readonly event: Words };
  readonly exposure: string;
  readonly groups: readonly string[];
  readonly strata: readonly string[];
  /** The event asked about. */
  readonly cause: string;
  readonly competing: readonly string[];
  readonly timeUnit: TimeUnit;
  readonly level: number;
  readonly crude: Answer<{ readonly allowed: true }>;
  readonly delayedEntry: boolean;
  /** Most units one person can own. */
  readonly mostPerPerson: number;
  readonly stamp: string | undefined;
  readonly mantleVersion: string;
  readonly lockHash: string;
}

interface Words {
  readonly one: string;
  readonly many: string;
}

const LEVEL = 0.95;

/** Puts together what the report says about pooled counts; the files are known to agree. */
export function poolFacts({ files, counts }: PooledCounts, question: PoolQuestion): PoolFacts {
  const descriptors = files.map(({ descriptor }) => descriptor);
  const [first] = descriptors;
  if (first === undefined) throw new Error("pooled counts have at least one file");
  const cause = first.causes.find(({ event }) => event)?.label ?? "";
  return {
    ...question,
    descriptors,
    sources: files.map(({ source }) => source),
    words: { unit: first.unit, event: first.eventWords },
    exposure: first.exposure,
    groups: counts.groups,
    strata: counts.strata,
    cause,
    competing: counts.causes.filter((label) => label !== cause),
    timeUnit: TIME_UNITS[first.timeUnit],
    level: LEVEL,
    crude: crudeRisk(descriptors),
    delayedEntry: counts.delayedEntry,
    mostPerPerson: first.mostPerPerson,
    stamp: stampOf(descriptors),
    mantleVersion: mantleVersion(),
    lockHash: lockFileHash(),
  };
}

/** The weakest capture decides: deaths missed in one source are missed in the sum. */
function crudeRisk(descriptors: readonly CountsDescriptor[]): PoolFacts["crude"] {
  if (descriptors.some(({ deathCapture }) => deathCapture !== "national")) {
    return notComputed(
      "deaths-not-captured",
      "not every source captures deaths wherever they happen, so the share with the event before death cannot be given",
    );
  }
  if (!descriptors.every(({ causes }) => causes.some(({ death }) => death))) {
    return notComputed(
      "death-does-not-compete",
      "no cause of the counts is marked as death, so people who died may count as still at risk",
    );
  }
  return computed({ allowed: true });
}

function stampOf(descriptors: readonly CountsDescriptor[]): string | undefined {
  const stamps = descriptors.flatMap(({ invented, stamp }) =>
    invented && stamp !== undefined ? [stamp] : [],
  );
  return stamps.length === 0 ? undefined : [...new Set(stamps)].join(" · ");
}
