import type { ObservationColumns, Observations } from "./observations.ts";

/** Some rows with every column they have. */
export function someRows(
  { exit, event, entry, weight, group, stratum, cluster, caseId, causes, timeUnit }: Observations,
  rows: readonly number[],
): ObservationColumns {
  const pick = (values: ArrayLike<number>) => rows.map((row) => values[row] ?? 0);
  return {
    exit: pick(exit),
    event: pick(event),
    group: { codes: pick(group.codes), labels: group.labels },
    stratum: { codes: pick(stratum.codes), labels: stratum.labels },
    ...(entry && { entry: pick(entry) }),
    ...(weight && { weight: { kind: weight.kind, values: pick(weight.values) } }),
    ...(cluster && { cluster: { codes: pick(cluster.codes), word: cluster.word } }),
    ...(caseId && { caseId: pick(caseId) }),
    causes,
    timeUnit,
  };
}
