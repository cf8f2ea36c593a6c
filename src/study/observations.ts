import type { FollowUp } from "../cohort/cohort.ts";
import { checkObservations } from "../survival/check-observations.ts";
import type { Observations } from "../survival/observations.ts";
import { type ExposureGroups, NOT_COMPARED } from "../technique/exposure.ts";

/** Observations and the row of the cases that each came from. */
export interface StudyObservations {
  readonly observations: Observations;
  readonly rows: Int32Array;
}

/** Cluster of every row of the cases. */
export interface RowClusters {
  readonly codes: Int32Array;
  readonly word: string;
}

/** Joins follow-up and groups: the rows that are compared, ready for every estimator. */
export function observations(
  followUp: FollowUp,
  groups: ExposureGroups,
  clusters?: RowClusters,
): StudyObservations {
  const kept = places(followUp, (row) => groups.group[row] !== NOT_COMPARED);
  return joined(followUp, kept, (row) => groups.group[row] ?? NOT_COMPARED, groups.labels, clusters);
}

/** The same for the rows that are not compared, grouped by the reason; undefined where there are none. */
export function notComparedObservations(
  followUp: FollowUp,
  groups: ExposureGroups,
): StudyObservations | undefined {
  const reason = new Map<number, number>();
  groups.notCompared.forEach(({ rows }, at) => {
    for (const row of rows) reason.set(row, at);
  });
  const kept = places(followUp, (row) => reason.has(row));
  if (kept.length === 0) return undefined;
  const present = groups.notCompared.map(({ label }) => label);
  return joined(followUp, kept, (row) => reason.get(row) ?? 0, present, undefined);
}

/** Places in the follow-up arrays whose row of the cases is wanted. */
function places(followUp: FollowUp, wanted: (row: number) => boolean): number[] {
  const kept: number[] = [];
  followUp.rows.forEach((row, place) => {
    if (wanted(row)) kept.push(place);
  });
  return kept;
}

function joined(
  followUp: FollowUp,
  kept: readonly number[],
  groupOf: (row: number) => number,
  labels: readonly string[],
  clusters: RowClusters | undefined,
): StudyObservations {
  const pick = (values: ArrayLike<number>) => Int32Array.from(kept, (place) => values[place] ?? 0);
  const rows = pick(followUp.rows);
  const { entry } = followUp;
  return {
    rows,
    observations: checkObservations({
      exit: pick(followUp.exit),
      event: pick(followUp.outcome),
      ...(entry === undefined ? {} : { entry: pick(entry) }),
      group: { codes: Int32Array.from(rows, groupOf), labels },
      ...(clusters === undefined
        ? {}
        : {
            cluster: { codes: Int32Array.from(rows, (row) => clusters.codes[row] ?? 0), word: clusters.word },
          }),
      causes: followUp.outcomes,
      timeUnit: followUp.timeUnit,
    }),
  };
}
