import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { type RandomStream, randomStreams } from "../../src/base/random-streams.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";

/** Columns of follow-up as whole numbers of 32 bits, which Node and R read from the same files. */
export const COLUMN_NAMES = ["exit", "event", "group", "cluster"] as const;
export type FollowUpColumns = Readonly<Record<(typeof COLUMN_NAMES)[number], Int32Array>>;

const SEED = 20_240_901;
const DAYS_PER_YEAR = 365.25;
const LONGEST_YEARS = 15;
const SURGEONS = 400;
/** First events per knee-year in the three groups, and deaths: about 3 % and 17 % are seen. */
const EVENTS_PER_YEAR = [0.0042, 0.0048, 0.0054];
const DEATHS_PER_YEAR = 0.027;

/** Invented follow-up in whole days: operations evenly over 15 years, three groups, two causes, clusters. */
export function inventedFollowUp(rows: number): FollowUpColumns {
  const columns = {
    exit: new Int32Array(rows),
    event: new Int32Array(rows),
    group: new Int32Array(rows),
    cluster: new Int32Array(rows),
  };
  const stream = randomStreams(SEED).stream("bench follow-up");
  for (let row = 0; row < rows; row += 1) {
    const group = stream.below(EVENTS_PER_YEAR.length);
    const toCut = stream.uniform() * LONGEST_YEARS;
    const toEvent = waitingTime(stream, EVENTS_PER_YEAR[group] ?? 0);
    const toDeath = waitingTime(stream, DEATHS_PER_YEAR);
    const end = Math.min(toCut, toEvent, toDeath);
    columns.exit[row] = Math.floor(end * DAYS_PER_YEAR);
    columns.event[row] = end === toEvent ? 1 : end === toDeath ? 2 : 0;
    columns.group[row] = group;
    columns.cluster[row] = stream.below(SURGEONS);
  }
  return columns;
}

export function observationColumns({ exit, event, group, cluster }: FollowUpColumns): ObservationColumns {
  return {
    exit,
    event,
    group: { codes: group, labels: ["A", "B", "C"] },
    cluster: { codes: cluster, word: "surgeon" },
    causes: ["revision", "death"],
  };
}

export function writeColumns(folder: string, columns: FollowUpColumns): void {
  for (const name of COLUMN_NAMES) writeFileSync(join(folder, `${name}.int32`), columns[name]);
}

export function readColumns(folder: string): FollowUpColumns {
  const column = (name: string) => {
    const bytes = readFileSync(join(folder, `${name}.int32`));
    return new Int32Array(bytes.buffer, bytes.byteOffset, bytes.length / Int32Array.BYTES_PER_ELEMENT);
  };
  return {
    exit: column("exit"),
    event: column("event"),
    group: column("group"),
    cluster: column("cluster"),
  };
}

/** Constant hazard. */
function waitingTime(stream: RandomStream, perYear: number): number {
  return -Math.log(1 - stream.uniform()) / perYear;
}
