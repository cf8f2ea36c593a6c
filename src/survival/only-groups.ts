import type { CountsByTime } from "./counts.ts";
import type { ObservationColumns, Observations } from "./observations.ts";

/** The counts of some groups, in the order given. */
export function onlyGroups(counts: CountsByTime, groups: readonly number[]): CountsByTime {
  return {
    ...counts,
    groups: groups.map((group) => counts.groups[group] ?? ""),
    cells: groups.flatMap((group, place) =>
      counts.cells.filter((cell) => cell.group === group).map((cell) => ({ ...cell, group: place })),
    ),
  };
}

/** The rows of some groups, in the order given; every other column goes with them. */
export function onlyGroupRows(
  { group, exit, event, entry, weight, stratum, cluster, caseId, causes, timeUnit, rows }: Observations,
  groups: readonly number[],
): ObservationColumns {
  const kept: number[] = [];
  for (let row = 0; row < rows; row += 1) if (groups.includes(group.codes[row] ?? -1)) kept.push(row);
  const pick = (values: ArrayLike<number>) => kept.map((row) => values[row] ?? 0);
  return {
    exit: pick(exit),
    event: pick(event),
    group: {
      codes: pick(group.codes).map((code) => groups.indexOf(code)),
      labels: groups.map((code) => group.labels[code] ?? ""),
    },
    stratum: { codes: pick(stratum.codes), labels: stratum.labels },
    ...(entry && { entry: pick(entry) }),
    ...(weight && { weight: { kind: weight.kind, values: pick(weight.values) } }),
    ...(cluster && { cluster: { codes: pick(cluster.codes), word: cluster.word } }),
    ...(caseId && { caseId: pick(caseId) }),
    causes,
    timeUnit,
  };
}
