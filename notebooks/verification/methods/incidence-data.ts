import type { ObservationColumns } from "../../../src/survival/observations.ts";
import { numberColumn, referenceRecord, referenceRows } from "../../../tests/reference/reference-files.ts";

export const bySex = referenceRecord.bind(undefined, "04_competing_risks", "cif.mgus2_by_sex");

export const TITLE = "1384 people with a gammopathy, malignancy or death first (Kyle and others 2002)";

export function handColumns(): ObservationColumns {
  const rows = referenceRows("cif_hand.csv");
  return { exit: numberColumn(rows, "time"), event: numberColumn(rows, "event"), causes: ["one", "two"] };
}
