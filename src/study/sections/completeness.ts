import type { Cell, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { CovariateRow, CovariateTable } from "../../summaries/covariate-table.ts";
import type { StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { keys, noCell, sized, textCell } from "./cells.ts";
import { groupCount, missingCount, presentCount } from "./covariates.ts";

/** How complete follow-up and records are in each group: what is missing more often on one side can make a difference. */
export function completenessExhibit(
  { covariates, followUp }: StudyEstimates,
  facts: StudyFacts,
): readonly TableExhibit[] {
  const followed = followUpRow(followUp);
  const rows = [
    ...followed,
    ...covariates.covariates.map((row): TableRow => ({ label: row.label, cells: recorded(row, covariates) })),
  ];
  if (rows.length === 0) return [];
  return [
    {
      kind: "table",
      id: "completeness",
      title: "How complete the records are",
      columns: [
        { id: "what", label: "Per cent" },
        ...facts.groups.map((group, at) => ({ id: `group-${at}`, label: group, align: "end" as const })),
      ],
      rows,
      notes: [noteOn(followed, covariates)],
      relations: covariates.covariates.flatMap((row) =>
        covariates.groups.map((_group, at) => ({
          total: groupCount(covariates, at),
          parts: [presentCount(row, covariates, at), ...missingOf(row, covariates, at)],
        })),
      ),
      picture: "bars",
    },
  ];
}

function noteOn(followed: readonly TableRow[], { covariates }: CovariateTable): string {
  const observed = "Follow-up: time observed over the time to event, death or data cut.";
  const recordedWords = "with a value at the start.";
  if (followed.length === 0) return `In per cent: ${recordedWords}`;
  return covariates.length === 0 ? observed : `${observed} All others: ${recordedWords}`;
}

function followUpRow(followUp: StudyEstimates["followUp"]): TableRow[] {
  if (!followUp.some(({ completeness }) => completeness.computed)) return [];
  return [
    {
      label: "Follow-up",
      cells: followUp.map(({ label, size, completeness }) =>
        completeness.computed
          ? percentCell(100 * completeness.share, [sized(keys.group(label), size)])
          : noCell(completeness),
      ),
    },
  ];
}

function recorded(row: CovariateRow, table: CovariateTable): Cell[] {
  return table.groups.map((_group, at) => {
    const [present, whole] = [presentCount(row, table, at), groupCount(table, at)];
    if (whole.units === 0) return textCell("");
    return percentCell((100 * present.units) / whole.units, [present, whole, ...missingOf(row, table, at)]);
  });
}

function missingOf(row: CovariateRow, table: CovariateTable, at: number) {
  return row.missing.map(({ reason, groups }) =>
    missingCount(row, reason, groups[at] ?? { units: 0, persons: 0 }, table, at),
  );
}

function percentCell(value: number, restsOn: Extract<Cell, { kind: "number" }>["restsOn"]): Cell {
  return { kind: "number", value, decimals: 1, suffix: " %", restsOn };
}
