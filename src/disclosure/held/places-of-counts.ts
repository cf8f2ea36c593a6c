import { countsOf } from "../cell.ts";
import type { ClearedCell, ClearedExhibit } from "../cleared.ts";
import { type CurvePlan, standingCounts } from "../curve-plan.ts";
import type { Count, CurveExhibit, FlowExhibit, TableExhibit } from "../exhibit.ts";

export type Planned =
  | { readonly exhibit: TableExhibit | FlowExhibit | { readonly kind: "lines"; readonly id: string } }
  | { readonly exhibit: CurveExhibit; readonly plans: readonly CurvePlan[] };

/** Where a reader meets a count first, and whether a number of any place tells it. */
export interface PlaceOfCount {
  readonly first: string;
  readonly isPrinted: boolean;
}

/** One cell with the counts behind it, before and after. */
interface Placed {
  readonly where: string;
  readonly counts: readonly Count[];
  readonly shown: ClearedCell | undefined;
}

/**
 * The places of every count that an exhibit names, by key.
 *
 * A widened number tells no count, and one that is taken over from a report before tells that report's.
 */
export function placesOfCounts(
  planned: readonly Planned[],
  cleared: readonly ClearedExhibit[],
): Map<string, PlaceOfCount> {
  const found = new Map<string, PlaceOfCount>();
  for (const one of planned) {
    const shown = cleared.find(({ id }) => id === one.exhibit.id);
    for (const { where, counts, shown: cell } of cellsWithCounts(one, shown)) {
      const tells = cell?.hidden === false && cell.coarse === undefined && !cell.asBefore;
      for (const { key } of counts) {
        const before = found.get(key);
        found.set(key, { first: before?.first ?? where, isPrinted: before?.isPrinted || tells });
      }
    }
  }
  return found;
}

function cellsWithCounts(one: Planned, shown: ClearedExhibit | undefined): readonly Placed[] {
  if ("plans" in one) return curveCells(one.exhibit, one.plans, shown);
  const { exhibit } = one;
  if (exhibit.kind === "table") return tableCells(exhibit, shown);
  return exhibit.kind === "flow" ? flowCells(exhibit, shown) : [];
}

function tableCells({ title, rows }: TableExhibit, shown: ClearedExhibit | undefined): Placed[] {
  let heading = "";
  return rows.flatMap(({ label, heading: isHeading, cells }, row) => {
    if (isHeading) heading = `${label}, `;
    return cells.map((cell, at) => ({
      where: `${title}: ${heading}${label}`,
      counts: countsOf(cell),
      // No count follows from a p-value.
      shown:
        shown?.kind === "table" && cell.kind !== "pValue" && cell.kind !== "none"
          ? shown.rows[row]?.cells[at]
          : undefined,
    }));
  });
}

function flowCells({ title, boxes, groups }: FlowExhibit, shown: ClearedExhibit | undefined): Placed[] {
  const all = [...boxes.flatMap((box) => [box, ...(box.removed ?? [])]), ...groups];
  const cells =
    shown?.kind === "flow" ? [...shown.boxes.flatMap((box) => [box, ...box.removed]), ...shown.groups] : [];
  return all.flatMap(({ label, units, persons }, at) => {
    const where = `${title}: ${label}`;
    const own = { where, counts: [units], shown: cells[at]?.units };
    return persons === undefined ? [own] : [own, { where, counts: [persons], shown: cells[at]?.persons }];
  });
}

function curveCells(
  { title }: CurveExhibit,
  plans: readonly CurvePlan[],
  shown: ClearedExhibit | undefined,
): Placed[] {
  const rows = shown?.kind === "curves" ? shown.landmarks : [];
  return plans.flatMap((plan) => {
    const row = rows.find(({ label }) => label === plan.curve.label);
    return plan.landmarks.flatMap((standing, at) => {
      const where = `${title}: ${plan.curve.label}, ${standing.year} years`;
      const { events, censored, competing } = standingCounts(plan, standing);
      return [
        { where, counts: [events], shown: row?.events[at] },
        { where, counts: [censored], shown: row?.censored[at] },
        ...(competing === undefined ? [] : [{ where, counts: [competing], shown: row?.competing?.[at] }]),
      ];
    });
  });
}
