import type { rowsOf } from "./some-rows.ts";

type Rows = ReturnType<typeof rowsOf> & { readonly weight?: { readonly values: readonly number[] } };

/** Rows of one group, as a list of records: nothing shared with the code under test. */
export function listOf(columns: Rows, group: string) {
  const wanted = columns.group.labels.indexOf(group);
  return columns.exit.flatMap((exit, row) =>
    columns.group.codes[row] === wanted
      ? [
          {
            row,
            exit,
            entry: columns.entry?.[row] ?? -1,
            event: columns.event[row] ?? 0,
            cluster: columns.cluster.codes[row] ?? 0,
            weight: columns.weight?.values[row] ?? 1,
          },
        ]
      : [],
  );
}

type Row = ReturnType<typeof listOf>[number];

/** Aalen–Johansen from the definition: one pass over all rows for each tick. */
export function incidenceOf(rows: readonly Row[], cause: number, tick: number): number {
  let [incidence, free] = [0, 1];
  for (const time of eventTicks(rows, tick)) {
    const atRisk = weightOf(rows.filter((row) => row.entry < time && row.exit >= time));
    const events = rows.filter((row) => row.exit === time && row.event > 0);
    incidence += (free * weightOf(events.filter((row) => row.event === cause))) / atRisk;
    free *= 1 - weightOf(events) / atRisk;
  }
  return incidence;
}

/** The estimate and its variance as a double sum over pairs of ticks, from the textbook formula. */
export function naiveIncidence(columns: Rows, group: string, cause: string, tick: number) {
  const rows = listOf(columns, group);
  const code = columns.causes.indexOf(cause) + 1;
  const reached = incidenceOf(rows, code, tick);
  let free = 1;
  let variance = 0;
  for (const time of eventTicks(rows, tick)) {
    const n = weightOf(rows.filter((row) => row.entry < time && row.exit >= time));
    const here = rows.filter((row) => row.exit === time && row.event > 0);
    const [d, k] = [weightOf(here), weightOf(here.filter((row) => row.event === code))];
    const gap = reached - incidenceOf(rows, code, time);
    if (n > d) variance += (gap * gap * d) / (n * (n - d));
    variance += (free * free * k * (n - k)) / (n * n * n) - (2 * gap * free * k) / (n * n);
    free *= 1 - d / n;
  }
  return { incidence: reached, variance };
}

function eventTicks(rows: readonly Row[], last: number): number[] {
  const ticks = rows.filter((row) => row.event > 0 && row.exit <= last).map((row) => row.exit);
  return [...new Set(ticks)].sort((a, b) => a - b);
}

function weightOf(rows: readonly Row[]): number {
  return rows.reduce((sum, row) => sum + row.weight, 0);
}
