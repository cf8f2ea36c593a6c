import { ArgumentError } from "../base/errors.ts";
import type { CountsByTime, CountsCell } from "./counts.ts";
import { type CountRow, countsFromTable } from "./counts-from-table.ts";

/**
 * Counts of several centres put together, as if their rows had been counted in one place.
 *
 * Groups and strata are matched by name. Unweighted curves, incidence, log-rank and Gray's tests, restricted means and
 * rates of the sum are those of the joined rows; a patient treated in two centres cannot be linked.
 *
 * @throws ArgumentError for weighted counts, or where causes or time units differ.
 *
 * @example
 * const one = countsByTime({ exit: [1, 3], event: [1, 0] });
 * const two = countsByTime({ exit: [1, 4], event: [1, 1] });
 * addCounts([one, two]).cells[0]?.atRisk; // [4, 2, 1]
 */
export function addCounts(parts: readonly CountsByTime[]): CountsByTime {
  const [first] = parts;
  if (first === undefined) throw new ArgumentError("addCounts: at least one set of counts is needed");
  for (const part of parts) requireSame(first, part);
  const rows = parts.flatMap((part) => part.cells.flatMap((cell) => rowsOf(part, cell)));
  const groups = [...new Set(parts.flatMap((part) => part.groups))];
  const strata = [...new Set(parts.flatMap((part) => part.strata))];
  const added = countsFromTable(rows, { causes: first.causes, timeUnit: first.timeUnit, groups, strata });
  return {
    ...added,
    delayedEntry: parts.some((part) => part.delayedEntry),
    // Pieces of one case are counted once by the part that knows them, which sums over ticks cannot tell.
    cells: added.cells.map((cell) => {
      const same = parts.flatMap((part) =>
        part.cells.filter(
          (one) =>
            part.groups[one.group] === groups[cell.group] &&
            part.strata[one.stratum] === strata[cell.stratum],
        ),
      );
      return { ...cell, cases: same.reduce((sum, one) => sum + one.cases, 0) };
    }),
  };
}

function rowsOf(part: CountsByTime, cell: CountsCell): CountRow[] {
  return Array.from(cell.time, (tick, step) => ({
    group: part.groups[cell.group] ?? "all",
    stratum: part.strata[cell.stratum] ?? "all",
    tick,
    events: cell.events.map((column) => column[step] ?? 0),
    censored: cell.censored[step] ?? 0,
    entered: cell.entered[step] ?? 0,
  }));
}

function requireSame(first: CountsByTime, part: CountsByTime): void {
  if (part.weightKind !== undefined) {
    throw new ArgumentError("addCounts: weighted counts cannot be added; add the counts of the rows");
  }
  if (
    part.causes.length !== first.causes.length ||
    part.causes.some((cause, at) => cause !== first.causes[at])
  ) {
    throw new ArgumentError("addCounts: all counts need the same causes in the same order");
  }
  if (part.timeUnit.perYear !== first.timeUnit.perYear) {
    throw new ArgumentError("addCounts: all counts need the same time unit");
  }
}
