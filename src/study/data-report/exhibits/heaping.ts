import type { FindingGroup, Findings } from "../../../base/finding.ts";
import type { TableExhibit, TableRow } from "../../../disclosure/exhibit.ts";
import { textCell } from "../../sections/cells.ts";
import { atLeastHalf, dataKeys } from "../data-keys.ts";

/** What counts as heaped, how often chance would make it, and what the finding counts it among. */
const HEAPS = {
  "dates-heaped": { where: "on one day of the month", expected: "about 3 %", among: "dates" },
  "numbers-rounded": { where: "ending in 0 or 5", expected: "about 20 %", among: "values" },
} as const;

/** Fields that are written on round values too often to have been measured. */
export function heapingExhibit({ groups }: Findings, knowsPersons: boolean): TableExhibit[] {
  const rows = groups.flatMap((group) => heapRow(group, knowsPersons));
  if (rows.length === 0) return [];
  return [
    {
      kind: "table",
      id: "heaping",
      title: "Values that are written too often",
      columns: [
        { id: "field", label: "Field" },
        { id: "where", label: "Where" },
        { id: "share", label: "Share", align: "end" },
        { id: "expected", label: "Expected", align: "end" },
      ],
      rows,
      notes: ["Follow-up from a date of which only the month was known is wrong by weeks."],
    },
  ];
}

function heapRow({ code, field = "", first }: FindingGroup, knowsPersons: boolean): TableRow[] {
  const heap = Object.entries(HEAPS).find(([name]) => name === code)?.[1];
  const { percent, [heap?.among ?? ""]: among } = first[0]?.details ?? {};
  if (heap === undefined || typeof percent !== "number" || typeof among !== "number") return [];
  const heaped = Math.round((percent * among) / 100);
  return [
    {
      label: field,
      cells: [
        textCell(heap.where),
        {
          kind: "number",
          value: percent,
          decimals: 0,
          suffix: " %",
          restsOn: [atLeastHalf(dataKeys.field(field, "heaped"), heaped, knowsPersons)],
        },
        textCell(heap.expected),
      ],
    },
  ];
}
