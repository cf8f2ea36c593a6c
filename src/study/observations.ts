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

const NO_REASON = -1;

/** The same for the rows that are not compared, grouped by the reason; undefined where there are none. */
export function notComparedObservations(
  followUp: FollowUp,
  groups: ExposureGroups,
): StudyObservations | undefined {
  const reason = new Int32Array(groups.group.length).fill(NO_REASON);
  groups.notCompared.forEach(({ rows }, at) => {
    for (const row of rows) reason[row] = at;
  });
  const kept = places(followUp, (row) => reason[row] !== NO_REASON);
  if (kept.length === 0) return undefined;
  const present = groups.notCompared.map(({ label }) => label);
  return joined(followUp, kept, (row) => reason[row] ?? NO_REASON, present, undefined);
}

/** Places in the follow-up arrays whose row of the cases is wanted. */
function places({ rows }: FollowUp, wanted: (row: number) => boolean): Int32Array {
  const kept = new Int32Array(rows.length);
  let count = 0;
  for (let place = 0; place < rows.length; place += 1) {
    // In range.
    if (wanted(rows[place]!)) kept[count++] = place;
  }
  return kept.subarray(0, count);
}

function joined(
  followUp: FollowUp,
  kept: Int32Array,
  groupOf: (row: number) => number,
  labels: readonly string[],
  clusters: RowClusters | undefined,
): StudyObservations {
  // An Int32Array is mapped in one pass; made from another list it would be iterated.
  const pick = (values: ArrayLike<number>) => kept.map((place) => values[place] ?? 0);
  const rows = pick(followUp.rows);
  const { entry } = followUp;
  return {
    rows,
    observations: checkObservations({
      exit: pick(followUp.exit),
      event: pick(followUp.outcome),
      ...(entry === undefined ? {} : { entry: pick(entry) }),
      group: { codes: rows.map(groupOf), labels },
      ...(clusters === undefined
        ? {}
        : {
            cluster: { codes: rows.map((row) => clusters.codes[row] ?? 0), word: clusters.word },
          }),
      causes: followUp.outcomes,
      timeUnit: followUp.timeUnit,
    }),
  };
}
