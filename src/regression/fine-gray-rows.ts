import { type Answer, computed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { checkObservations } from "../survival/check-observations.ts";
import { causeIndex } from "../survival/event-roles.ts";
import type { ObservationColumns, Observations } from "../survival/observations.ts";
import { type CoxRows, coxRows } from "./cox-rows.ts";
import { type CensoringCurve, censoringCurves } from "./fine-gray-censoring.ts";
import type { ModelMatrix } from "./model-matrix.ts";

/** Rows of a fit in which those with a competing event stay at risk, weighted down by the censoring they escaped. */
export interface FineGrayRows {
  /** Risk sets as for the cause alone, with one baseline. */
  readonly rows: CoxRows;
  /** One curve of staying under observation for each stratum. */
  readonly curves: readonly CensoringCurve[];
  /** Stratum of each row. */
  readonly stratum: Uint16Array;
  /** Places of the rows with a competing event, and the value of their curve when it happened. */
  readonly competing: Int32Array;
  readonly stayedAtExit: Float64Array;
  /** By stratum: value of the curve just before the events of each cell. */
  readonly stayed: readonly Float64Array[];
  /** Scaled columns that take part, for all rows and for those with a competing event. */
  readonly values: readonly Float64Array[];
  readonly competingValues: readonly Float64Array[];
}

/** Everything about rows that does not change from step to step. */
export function fineGrayRows(
  where: string,
  columns: ObservationColumns,
  matrix: ModelMatrix,
  cause: string,
): Answer<Omit<FineGrayRows, "values" | "competingValues">> {
  const { stratum: strata, ...observations } = checkObservations(columns);
  refuseCutRows(where, observations);
  const wanted = causeIndex(where, observations.causes, cause) + 1;
  const rows = coxRows(where, observations, matrix, [cause]);
  const stratum = new Uint16Array(rows.count);
  for (let place = 0; place < stratum.length; place += 1) stratum[place] = strata.codes[rows.row[place]!]!;
  const { event, exit } = observations;
  const isCompeting = (row: number) => event[row] !== 0 && event[row] !== wanted;
  const curves = censoringCurves(rows, stratum, strata.labels.length, isCompeting);
  if (!curves.computed) return curves;
  const competing = placesOf(rows, isCompeting);
  const stayedAtExit = Float64Array.from(competing, (place) =>
    curves.list[stratum[place] ?? 0]!.stayedBefore(exit[rows.row[place] ?? 0] ?? 0),
  );
  const stayed = curves.list.map(({ stayedBefore }) =>
    Float64Array.from(rows.cells.tick, (tick) => (tick < 0 ? 1 : stayedBefore(tick))),
  );
  return computed({ rows, curves: curves.list, stratum, competing, stayedAtExit, stayed });
}

/** The same with the columns that the fit takes. */
export function withColumns(
  frame: Omit<FineGrayRows, "values" | "competingValues">,
  values: readonly Float64Array[],
): FineGrayRows {
  const { competing } = frame;
  const competingValues = values.map((column) => {
    const part = new Float64Array(competing.length);
    for (let at = 0; at < part.length; at += 1) part[at] = column[competing[at]!]!;
    return part;
  });
  return { ...frame, values, competingValues };
}

function refuseCutRows(where: string, { caseId }: Pick<Observations, "caseId">): void {
  if (caseId === undefined) return;
  throw new ArgumentError(
    `${where}: cases cut in rows have covariates that change, and nobody has covariates after a competing event; give one row a case`,
  );
}

function placesOf({ row }: CoxRows, holds: (row: number) => boolean): Int32Array {
  const places = new Int32Array(row.length);
  let count = 0;
  for (let place = 0; place < row.length; place += 1) if (holds(row[place]!)) places[count++] = place;
  return places.slice(0, count);
}
