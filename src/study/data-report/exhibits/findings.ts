import { type FindingGroup, type Findings, SEVERITIES, type Severity } from "../../../base/finding.ts";
import type { Cell, TableExhibit, TableRow } from "../../../disclosure/exhibit.ts";
import { countCell, textCell } from "../../sections/cells.ts";
import { findingCount, isOfRows } from "../data-keys.ts";
import { pageSentence } from "../page-sentence.ts";

export const SEVERITY_TITLES: Readonly<Record<Severity, string>> = {
  error: "Errors: nothing can be analysed before they are settled",
  warning: "Warnings: possible, but look at them",
  note: "Notes",
};

/** What the checks found, the worst first: the field, how often, what it means and what to do. No rows are named. */
export function findingsExhibit({ groups }: Findings, knowsPersons: boolean): TableExhibit {
  return {
    kind: "table",
    id: "findings",
    title: "What was found",
    columns: [
      { id: "field", label: "Field" },
      { id: "number", label: "Rows", align: "end" },
      { id: "meaning", label: "What it means and what to do" },
    ],
    rows: SEVERITIES.flatMap((severity): TableRow[] => {
      const found = groups.filter((group) => group.severity === severity);
      if (found.length === 0) return [];
      return [
        { label: SEVERITY_TITLES[severity], heading: true, cells: [] },
        ...found.map((group) => ({
          label: group.field ?? "the file",
          indent: 1,
          cells: [rowsCell(group, knowsPersons), textCell(pageSentence(group))],
        })),
      ];
    }),
    notes: [
      "The rows themselves are named by “mantle check” in the terminal and with --json, not here.",
      ...(groups.length === 0 ? ["Nothing was found."] : []),
    ],
  };
}

/** A finding about a column or a file counts no rows. */
function rowsCell(group: FindingGroup, knowsPersons: boolean): Cell {
  return isOfRows(group) ? countCell(findingCount(group, knowsPersons)) : textCell("–");
}
