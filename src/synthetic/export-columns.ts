import { covariateColumns } from "./covariate-columns.ts";
import type { DrawnCases } from "./drawn-cases.ts";
import { codedColumn, type ExportColumn } from "./export-column.ts";
import { identityColumns } from "./identity-columns.ts";
import { outcomeColumns } from "./outcome-columns.ts";
import type { RandomStreams } from "./random-draws.ts";
import { techniqueColumns } from "./technique-columns.ts";

/** The fields of the export in the order of the file. */
export function exportColumns(drawn: DrawnCases, streams: RandomStreams): readonly ExportColumn[] {
  return [
    ...identityColumns(drawn),
    ...covariateColumns(drawn),
    ...techniqueColumns(drawn.technique, drawn.recording, streams),
    ...outcomeColumns(drawn.recording),
    STAMP_COLUMN,
  ];
}

/** The stamp in every row: it survives when rows are copied out of the file. */
const STAMP_COLUMN = codedColumn(
  {
    name: "invented",
    title: "Invented row",
    description: "Says in every row that it describes nobody.",
  },
  [["invented", "invented: describes no person"]],
  () => 0,
);
