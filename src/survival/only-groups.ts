import type { CountsByTime } from "./counts.ts";
import type { ObservationColumns, Observations } from "./observations.ts";
import { someRows } from "./some-rows.ts";

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

/** The rows of some groups, in the order given. */
export function onlyGroupRows(observations: Observations, groups: readonly number[]): ObservationColumns {
  const { group } = observations;
  const kept = [...group.codes.keys()].filter((row) => groups.includes(group.codes[row] ?? -1));
  return {
    ...someRows(observations, kept),
    group: {
      codes: kept.map((row) => groups.indexOf(group.codes[row] ?? -1)),
      labels: groups.map((code) => group.labels[code] ?? ""),
    },
  };
}
