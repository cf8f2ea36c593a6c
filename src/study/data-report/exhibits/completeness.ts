import type { Cell, Count, Relation, TableExhibit } from "../../../disclosure/exhibit.ts";
import { sized, textCell } from "../../sections/cells.ts";
import { allRowsCount, dataKeys } from "../data-keys.ts";
import type { FieldFilled, FieldSheet } from "../field-sheet.ts";

type Levels = FieldSheet["levels"][number];

/** A percentage of fewer says little and tells much. */
const PERCENT_FROM = 20;

/** How completely each field is filled, by year of operation and by centre, each with its figure. */
export function completenessExhibits(sheet: FieldSheet): TableExhibit[] {
  return sheet.levels
    .map((levels, at) => completenessAt(sheet, levels, at))
    .filter(({ columns }) => columns.length > 1);
}

function completenessAt(sheet: FieldSheet, levels: Levels, kindAt: number): TableExhibit {
  const fields = sheet.fields.filter(({ isOptional }) => !isOptional);
  return {
    kind: "table",
    id: `completeness-by-${levels.kind}`,
    title: `How completely the fields are filled, by ${levels.title}`,
    picture: "shares",
    columns: [
      { id: "field", label: "Field" },
      ...levels.labels.map((label, at) => ({ id: `level-${at}`, label, align: "end" as const })),
    ],
    rows: fields.map((field) => ({
      label: field.title,
      cells: levels.labels.map((_, level) => percentCell(field, levels, kindAt, level)),
    })),
    notes: [
      "Share of the rows with a value. Fields whose blank says that something did not happen are left out.",
      ...(levels.surgeons.length > 0 ? ["A centre with too few surgeons is not shown."] : []),
    ],
    relations: [
      ...sumOverLevels(allRowsCount(sheet.rows), levels, (level) => levelCount(levels, level)),
      ...fields.flatMap((field): Relation[] => [
        ...levels.labels.map((_, level) => ({
          total: levelCount(levels, level),
          parts: [
            cellCount(field, levels, kindAt, level, "filled"),
            cellCount(field, levels, kindAt, level, "empty"),
          ],
        })),
        ...(["filled", "empty"] as const).flatMap((what) =>
          sumOverLevels(sized(dataKeys.field(field.field.name, what), field.all[what]), levels, (level) =>
            cellCount(field, levels, kindAt, level, what),
          ),
        ),
      ]),
    ],
  };
}

function percentCell(field: FieldFilled, levels: Levels, kindAt: number, level: number): Cell {
  const whole = levelCount(levels, level);
  if (whole.units === 0) return textCell("no rows");
  if (whole.units < PERCENT_FROM) return textCell(`fewer than ${PERCENT_FROM} rows`);
  const filled = cellCount(field, levels, kindAt, level, "filled");
  const operating = levels.surgeons[level] ?? 0;
  return {
    kind: "number",
    value: (100 * filled.units) / whole.units,
    decimals: 0,
    suffix: " %",
    restsOn: [
      filled,
      whole,
      // A centre of few surgeons shows what each of them fills in.
      ...(operating > 0 ? [{ key: `${whole.key}/surgeons`, units: operating }] : []),
    ],
  };
}

function levelCount({ kind, labels, sizes }: Levels, level: number): Count {
  return sized(dataKeys.level(kind, labels[level] ?? ""), sizes[level] ?? NOBODY);
}

function cellCount(
  { field, at }: FieldFilled,
  { kind, labels }: Levels,
  kindAt: number,
  level: number,
  what: "filled" | "empty",
): Count {
  return sized(
    dataKeys.fieldAt(field.name, what, kind, labels[level] ?? ""),
    at[kindAt]?.[level]?.[what] ?? NOBODY,
  );
}

/** Rows of no level are a part as well. */
function sumOverLevels(
  total: Count,
  { kind, labels }: Levels,
  countAt: (level: number) => Count,
): Relation[] {
  const parts = labels.map((_, level) => countAt(level));
  const rest = total.units - parts.reduce((sum, { units }) => sum + units, 0);
  if (parts.length === 0) return [];
  return [
    { total, parts: rest === 0 ? parts : [...parts, { key: `${total.key}/at no ${kind}`, units: rest }] },
  ];
}

const NOBODY = { units: 0, persons: 0 };
