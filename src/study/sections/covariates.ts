import type { Answer } from "../../base/answer.ts";
import { dateOfDay } from "../../base/day-number.ts";
import { capital } from "../../base/words.ts";
import type { Cell, Count, Relation, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import { keyPart } from "../../disclosure/key-part.ts";
import type { CovariateRow, CovariateTable } from "../../summaries/covariate-table.ts";
import type { Size, StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { exhibitBlock } from "../making/exhibit-block.ts";
import type { Section } from "../making/section.ts";
import { keys, noCell, shareCell, sized, textCell } from "./cells.ts";

/** What the groups looked like before anything happened to them. */
export const covariateSection: Section = {
  id: "covariates",
  title: () => "What the groups looked like",
  exhibits: (estimates, facts) =>
    estimates.covariates.covariates.length === 0 ? [] : [covariateExhibit(estimates, facts)],
  blocks: (view, _facts, figures) => [
    ...exhibitBlock(view.table("covariates"), figures),
    {
      kind: "prose",
      text: "A standardised difference is the difference in units of the spread, first group minus second. Far from 0 means that the groups were not alike to begin with. No test is made: whether chance could explain it is no question about groups that chance did not make.",
    },
  ],
};

function covariateExhibit(estimates: StudyEstimates, facts: StudyFacts): TableExhibit {
  const { covariates: table } = estimates;
  const pairs = table.covariates[0]?.differences.map(({ groups }) => groups) ?? [];
  return {
    kind: "table",
    id: "covariates",
    title: "What was known at the start, by group",
    columns: [
      { id: "covariate", label: facts.descriptor.study.cementedKnees ? "At the operation" : "At the start" },
      ...facts.groups.map((group, at) => ({ id: `group-${at}`, label: group, align: "end" as const })),
      ...pairs.map(([first, second]) => ({
        id: `apart-${first}-${second}`,
        label:
          pairs.length === 1
            ? "Standardised difference"
            : `Standardised difference: ${facts.groups[first]} and ${facts.groups[second]}`,
        align: "end" as const,
      })),
      ...(pairs.length > 1
        ? [{ id: "largest", label: "Largest of them, without its sign", align: "end" as const }]
        : []),
    ],
    rows: [
      sizeRow(table, pairs.length, facts),
      ...table.covariates.flatMap((row) => covariateRows(row, table, pairs.length)),
    ],
    notes: [
      "Numbers: mean (standard deviation) and median (quarter to quarter). Codes: number and share of those with a value.",
      "Missing and not recorded stand apart, are in no share, and take no part in the difference.",
    ],
    relations: table.covariates.flatMap((row) => relationsOf(row, table)),
    picture: "differences",
    settings: { quantiles: "type 7", standardDeviation: "n − 1" },
  };
}

/** How many stand in each group: the whole of every share beneath. */
function sizeRow(table: CovariateTable, pairs: number, facts: StudyFacts): TableRow {
  const sizes = table.groups.map((_group, at): Cell => ({ kind: "count", count: groupCount(table, at) }));
  return { label: capital(facts.words.unit.many), cells: [...sizes, ...blankCells(pairs)] };
}

/** One for each pair of groups, and one for the largest where there are several. */
function blankCells(pairs: number): Cell[] {
  return Array.from({ length: pairs > 1 ? pairs + 1 : pairs }, () => textCell(""));
}

function covariateRows(row: CovariateRow, table: CovariateTable, pairs: number): TableRow[] {
  const blanks = blankCells(pairs);
  const title: TableRow = {
    label: row.label,
    cells: [
      ...table.groups.map(() => textCell("")),
      ...row.differences.map(({ difference }) => differenceCell(difference, row, table)),
      ...(pairs > 1 ? [differenceCell(row.largest, row, table)] : []),
    ],
  };
  const body = row.kind === "code" ? categoryRows(row, table) : summaryRows(row, table);
  const missing = row.missing.map(({ reason, groups }) => ({
    label: reason,
    cells: groups.map((size, at) =>
      shareCell(missingCount(row, reason, size, table, at), groupCount(table, at)),
    ),
  }));
  return [
    title,
    ...[...body, ...missing].map(({ label, cells }) => ({ label, indent: 1, cells: [...cells, ...blanks] })),
  ];
}

function categoryRows(
  row: CovariateRow & { kind: "code" },
  table: CovariateTable,
): { label: string; cells: Cell[] }[] {
  return row.categories.map(({ label, groups }) => ({
    label,
    cells: groups.map((size, at) =>
      shareCell(categoryCount(row, label, size, table, at), presentCount(row, table, at)),
    ),
  }));
}

function summaryRows(
  row: CovariateRow & { kind: "number" | "day" },
  table: CovariateTable,
): { label: string; cells: Cell[] }[] {
  const cell = (at: number, make: (restsOn: Count[]) => Cell): Cell => make([presentCount(row, table, at)]);
  if (row.kind === "day") {
    return [
      {
        label: "median date (year)",
        cells: row.summaries.map((summary, at) =>
          summary.centre.computed
            ? cell(at, (restsOn) => ({
                kind: "number",
                value: Number(
                  dateOfDay(Math.round(summary.centre.computed ? summary.centre.median : 0)).slice(0, 4),
                ),
                decimals: 0,
                restsOn,
              }))
            : noCell(summary.centre),
        ),
      },
    ];
  }
  return [
    {
      label: "mean (standard deviation)",
      cells: row.summaries.map(({ centre, spread }, at) => {
        if (!centre.computed) return noCell(centre);
        if (!spread.computed) return noCell(spread);
        return cell(at, (restsOn) => ({
          kind: "numbers",
          form: "{0} ({1})",
          values: [centre.mean, spread.value],
          decimals: 1,
          restsOn,
        }));
      }),
    },
    {
      label: "median (quarter to quarter)",
      cells: row.summaries.map(({ centre }, at) =>
        centre.computed
          ? cell(at, (restsOn) => ({
              kind: "numbers",
              form: "{0} ({1} to {2})",
              values: [centre.median, centre.lowerQuartile, centre.upperQuartile],
              decimals: 1,
              restsOn,
            }))
          : noCell(centre),
      ),
    },
  ];
}

/** The other shares and the difference together give a hidden share back, however many categories there are. */
function differenceCell(
  difference: Answer<{ readonly value: number }>,
  row: CovariateRow,
  table: CovariateTable,
): Cell {
  if (!difference.computed) return noCell(difference);
  const present = table.groups.map((_group, at) => presentCount(row, table, at));
  const categories =
    row.kind === "code"
      ? row.categories.flatMap(({ label, groups }) =>
          groups.map((size, at) => categoryCount(row, label, size, table, at)),
        )
      : [];
  const restsOn = [...present, ...categories];
  return { kind: "number", value: difference.value, decimals: 2, restsOn };
}

function relationsOf(row: CovariateRow, table: CovariateTable): Relation[] {
  return table.groups.flatMap((_group, at) => {
    const present = presentCount(row, table, at);
    const none: Size = { units: 0, persons: 0 };
    const missing = row.missing.map(({ reason, groups }) =>
      missingCount(row, reason, groups[at] ?? none, table, at),
    );
    const whole: Relation = { total: groupCount(table, at), parts: [present, ...missing] };
    if (row.kind !== "code") return [whole];
    const categories = row.categories.map(({ label, groups }) =>
      categoryCount(row, label, groups[at] ?? none, table, at),
    );
    return [whole, { total: present, parts: categories }];
  });
}

export function groupCount(table: CovariateTable, at: number): Count {
  const group = table.groups[at];
  return sized(keys.group(group?.label ?? ""), group ?? { units: 0, persons: 0 });
}

export function presentCount(row: CovariateRow, table: CovariateTable, at: number): Count {
  return sized(keyOf(row, "present", table, at), row.present[at] ?? { units: 0, persons: 0 });
}

function categoryCount(
  row: CovariateRow,
  label: string,
  size: Size,
  table: CovariateTable,
  at: number,
): Count {
  return sized(keyOf(row, `is:${keyPart(label)}`, table, at), size);
}

export function missingCount(
  row: CovariateRow,
  reason: string,
  size: Size,
  table: CovariateTable,
  at: number,
): Count {
  return sized(keyOf(row, `missing:${keyPart(reason)}`, table, at), size);
}

function keyOf(row: CovariateRow, what: string, table: CovariateTable, at: number): string {
  return `covariate/${keyPart(row.field)}/${what}/${keyPart(table.groups[at]?.label ?? "")}`;
}
