import { gather } from "../base/gather.ts";
import type { ObservationColumns, Observations } from "./observations.ts";

/** Some rows with every column they have. */
export function someRows(
  { exit, event, entry, weight, group, stratum, cluster, caseId, causes, timeUnit }: Observations,
  rows: ArrayLike<number>,
): ObservationColumns {
  return {
    exit: gather(exit, rows),
    event: gather(event, rows),
    group: { codes: gather(group.codes, rows), labels: group.labels },
    stratum: { codes: gather(stratum.codes, rows), labels: stratum.labels },
    ...(entry && { entry: gather(entry, rows) }),
    ...(weight && { weight: { kind: weight.kind, values: gather(weight.values, rows) } }),
    ...(cluster && { cluster: { codes: gather(cluster.codes, rows), word: cluster.word } }),
    ...(caseId && { caseId: gather(caseId, rows) }),
    causes,
    timeUnit,
  };
}
