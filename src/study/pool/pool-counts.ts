import { UsageError } from "../../base/errors.ts";
import { TIME_UNITS } from "../../base/time-unit.ts";
import { type CountsFile, ONE_STRATUM, readCounts } from "../../cases/read-counts.ts";
import { addCounts } from "../../survival/add-counts.ts";
import type { CountsByTime } from "../../survival/counts.ts";
import { countsFromTable } from "../../survival/counts-from-table.ts";
import { requireAgreement } from "./pool-agreement.ts";

/** Counts of several sources, apart and added. */
export interface PooledCounts {
  readonly files: readonly CountsFile[];
  /** As if the rows of all sources had been counted in one place. */
  readonly counts: CountsByTime;
  /** The same with every source a stratum of its own. */
  readonly bySource: CountsByTime;
}

/**
 * Reads the counts of several sources and adds them.
 *
 * Groups come in the order of the first source. From whole-number counts the sum is that of the joined rows, to the
 * last digit; a person with units in two sources cannot be linked.
 *
 * @throws UsageError with the faults of all files, or with everything in which they do not agree.
 */
export function poolCounts(paths: readonly string[]): PooledCounts {
  const files = readAll(paths);
  requireAgreement(files);
  const groups = files[0]?.descriptor.groups.map(({ label }) => label) ?? [];
  const strata = files[0]?.descriptor.strata ?? [ONE_STRATUM];
  const counts = addCounts(files.map((file) => countsOf(file, groups, strata, (stratum) => stratum)));
  refuseEmptyGroups(counts);
  return {
    files,
    counts,
    bySource: addCounts(
      files.map((file, at) => {
        const own = (stratum: string) => `${at + 1}/${stratum}`;
        return countsOf(file, groups, strata.map(own), own);
      }),
    ),
  };
}

/** A group that no source has anybody in cannot be compared. */
function refuseEmptyGroups({ groups, cells }: CountsByTime): void {
  const empty = groups.filter((_label, at) => cells.every(({ group, cases }) => group !== at || cases === 0));
  if (empty.length === 0) return;
  const named = empty.map((label) => `"${label}"`).join(", ");
  throw new UsageError(
    "empty-group",
    `no source has anybody in ${named}; leave the group out of every descriptor`,
  );
}

/** Every file is tried, so that one run names the faults of all. */
function readAll(paths: readonly string[]): CountsFile[] {
  const files: CountsFile[] = [];
  const faults: UsageError[] = [];
  for (const path of paths) {
    try {
      files.push(readCounts(path));
    } catch (error) {
      if (!(error instanceof UsageError)) throw error;
      faults.push(error);
    }
  }
  const [only] = faults;
  if (only !== undefined && faults.length === 1) throw only;
  if (faults.length > 1) {
    throw new UsageError("counts-unusable", faults.map(({ message }) => message).join("\n"));
  }
  return files;
}

function countsOf(
  { descriptor, rows }: CountsFile,
  groups: readonly string[],
  strata: readonly string[],
  stratumName: (stratum: string) => string,
): CountsByTime {
  const named = rows.map((row) => ({ ...row, stratum: stratumName(row.stratum) }));
  return countsFromTable(named, {
    causes: descriptor.causes.map(({ label }) => label),
    timeUnit: TIME_UNITS[descriptor.timeUnit],
    groups,
    strata,
  });
}
