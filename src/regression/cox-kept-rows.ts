import type { ObservationColumns } from "../survival/observations.ts";
import type { CoxFit } from "./cox-result.ts";
import type { CoxRows } from "./cox-rows.ts";
import type { ModelMatrix } from "./model-matrix.ts";

interface KeptRows {
  readonly columns: ObservationColumns;
  readonly matrix: ModelMatrix;
  readonly rows: CoxRows;
}

let kept = new WeakMap<CoxFit, KeptRows>();

/**
 * Keeps the rows of a fit for what is asked of it next: setting a million rows up costs more than a check of them.
 *
 * Those of the newest fit alone, and no longer than the fit is held: they are as large as the columns of the model.
 */
export function keepRows(fit: CoxFit, rows: KeptRows): void {
  kept = new WeakMap([[fit, rows]]);
}

/** The rows of the fit, where they are still there and were made from just these. */
export function keptRows(fit: CoxFit, columns: ObservationColumns, matrix: ModelMatrix): CoxRows | undefined {
  const own = kept.get(fit);
  return own?.columns === columns && own.matrix === matrix ? own.rows : undefined;
}
