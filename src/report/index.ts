export type { Block, Figure, Prose, ReportPage, Run } from "./block.ts";
export { curveTable, yearTable } from "./curve-table.ts";
export { flowTable } from "./flow-table.ts";
export { lineTable } from "./line-table.ts";
export { type IndexEntry, renderIndex } from "./render-index.ts";
export { renderReport } from "./render-report.ts";
export { type CsvOptions, tableCsv } from "./table-csv.ts";
