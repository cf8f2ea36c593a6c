import { ArgumentError } from "../base/errors.ts";
import { TIME_UNITS, type TimeUnit } from "../base/time-unit.ts";
import type { CountsByTime, CountsCell } from "./counts.ts";

const WHERE = "countsFromTable";

/** What happened on one tick in one group and stratum: one row of a `GROUP BY group, stratum, tick` count. */
export interface CountRow {
  /** Default "all". */
  readonly group?: string;
  /** Default "all". */
  readonly stratum?: string;
  readonly tick: number;
  /** Events of each cause, in the order of `causes`. */
  readonly events: readonly number[];
  readonly censored: number;
  /** Cases that came under observation on this tick, at risk from after it. Default none. */
  readonly entered?: number;
}

export interface CountTableOptions {
  /** Default one cause, "event". */
  readonly causes?: readonly string[];
  /** Default day. */
  readonly timeUnit?: TimeUnit;
  /** Groups in the order wanted, also those without a row. Default as they come. */
  readonly groups?: readonly string[];
  readonly strata?: readonly string[];
}

/**
 * Counts by time from a table that another engine has already counted, a database for example.
 *
 * Whole-number counts give the same curves, tests and rates as the rows they were counted from. Whoever leaves without
 * having entered was at risk from before tick 0. Rows come in any order; rows of one group, stratum and tick are added.
 *
 * @throws ArgumentError naming the first row at fault, counted from 1, or the group in which more leave than came.
 *
 * @example
 * countsFromTable([{ tick: 3, events: [1], censored: 0 }, { tick: 5, events: [0], censored: 2 }]).cells[0]?.atRisk; // 3, 2
 */
export function countsFromTable(rows: readonly CountRow[], options: CountTableOptions = {}): CountsByTime {
  const { causes = ["event"], timeUnit = TIME_UNITS.day } = options;
  rows.forEach((row, at) => {
    requireRow(row, at + 1, causes.length);
  });
  const groups = options.groups ?? seen(rows.map(({ group = "all" }) => group));
  const strata = options.strata ?? seen(rows.map(({ stratum = "all" }) => stratum));
  requireListed(
    "group",
    groups,
    rows.map(({ group = "all" }) => group),
  );
  requireListed(
    "stratum",
    strata,
    rows.map(({ stratum = "all" }) => stratum),
  );
  const cells = groups.flatMap((group, groupCode) =>
    strata.map((stratum, stratumCode) => {
      const own = rows.filter((row) => (row.group ?? "all") === group && (row.stratum ?? "all") === stratum);
      return cellOf(own, { group: groupCode, stratum: stratumCode }, causes.length, `group "${group}"`);
    }),
  );
  const delayedEntry = rows.some(({ entered = 0 }) => entered > 0);
  return { kind: "countsByTime", timeUnit, causes: [...causes], groups, strata, delayedEntry, cells };
}

function cellOf(
  rows: readonly CountRow[],
  place: { readonly group: number; readonly stratum: number },
  causes: number,
  name: string,
): CountsCell {
  const time = Int32Array.from(new Set(rows.filter(hasAny).map(({ tick }) => tick))).sort();
  const slot = new Map(Array.from(time, (tick, at) => [tick, at]));
  const column = () => new Float64Array(time.length);
  const events = Array.from({ length: causes }, column);
  const [censored, entered, leaving] = [column(), column(), column()];
  for (const row of rows.filter(hasAny)) {
    // Every row with a count has a slot.
    const at = slot.get(row.tick)!;
    row.events.forEach((count, cause) => {
      events[cause]![at]! += count;
    });
    censored[at]! += row.censored;
    entered[at]! += row.entered ?? 0;
    leaving[at]! += row.censored + row.events.reduce((sum, count) => sum + count, 0);
  }
  const atRisk = column();
  let stillHere = 0;
  for (let at = time.length - 1; at >= 0; at -= 1) {
    // Entries come last on a tick: who enters at this one is not yet at risk.
    stillHere += leaving[at]! - entered[at]!;
    atRisk[at] = stillHere;
    if (stillHere < leaving[at]!) {
      throw new ArgumentError(
        `${WHERE}: ${name}: more cases enter than leave later; every case must leave once`,
      );
    }
  }
  const ticksAtRisk = time.reduce((sum, tick, at) => sum + tick * (leaving[at]! - entered[at]!), 0);
  const cases = leaving.reduce((sum, count) => sum + count, 0);
  return { ...place, cases, time, atRisk, events, censored, entered, ticksAtRisk };
}

function hasAny({ events, censored, entered = 0 }: CountRow): boolean {
  return censored > 0 || entered > 0 || events.some((count) => count > 0);
}

function seen(labels: readonly string[]): readonly string[] {
  return labels.length === 0 ? ["all"] : [...new Set(labels)];
}

function requireListed(what: string, labels: readonly string[], used: readonly string[]): void {
  const unknown = used.find((label) => !labels.includes(label));
  if (unknown === undefined) return;
  throw new ArgumentError(`${WHERE}: ${what} "${unknown}" is not among those listed: ${labels.join(", ")}`);
}

function requireRow({ tick, events, censored, entered = 0 }: CountRow, row: number, causes: number): void {
  if (events.length !== causes) {
    throw new ArgumentError(
      `${WHERE}: row ${row}: events must hold one count for each of the ${causes} causes`,
    );
  }
  for (const count of [tick, censored, entered, ...events]) {
    if (!Number.isSafeInteger(count) || count < 0) {
      throw new ArgumentError(`${WHERE}: row ${row}: tick and counts must be whole numbers from 0 up`);
    }
  }
}
