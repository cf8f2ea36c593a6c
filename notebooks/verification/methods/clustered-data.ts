import type { ObservationColumns } from "../../../src/survival/observations.ts";
import { referenceRecord } from "../../../tests/reference/reference-files.ts";
import { gammopathy } from "../gammopathy.ts";

export const CLUSTERS = 40;

export const record = (id: string) => referenceRecord("19_clustered", id);

export const TITLE = "gammopathy data in 40 invented clusters that hold women and men";

export function clustered(by: "sex" | "age"): ObservationColumns {
  const columns = gammopathy(by);
  return { ...columns, cluster: { codes: columns.exit.map((_, row) => row % CLUSTERS), word: "centre" } };
}
