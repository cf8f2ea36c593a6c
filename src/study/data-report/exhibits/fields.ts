import type { FindingGroup, Findings } from "../../../base/finding.ts";
import type { Relation, TableExhibit } from "../../../disclosure/exhibit.ts";
import { countCell, sized } from "../../sections/cells.ts";
import { allRowsCount, atLeastHalf, dataKeys, isOfRows, sumOfFindings } from "../data-keys.ts";
import type { FieldFilled, FieldSheet } from "../field-sheet.ts";
import { CHANGED_CODES, UNREADABLE_CODES } from "../finding-kinds.ts";

/** Per field: cells with a value, left blank, refused as not readable, and read otherwise than written. */
export function fieldsExhibit(sheet: FieldSheet, { groups }: Findings, knowsPersons: boolean): TableExhibit {
  const whole = allRowsCount(sheet.rows);
  const lines = sheet.fields.map((field) => fieldLine(field, groups, knowsPersons));
  return {
    kind: "table",
    id: "fields",
    title: "How the cells of each field were read",
    columns: [
      { id: "field", label: "Field" },
      { id: "filled", label: "Filled", align: "end" },
      { id: "blank", label: "Blank, or a word for missing", align: "end" },
      { id: "refused", label: "Refused: not readable", align: "end" },
      { id: "changed", label: "Read otherwise than written", align: "end" },
    ],
    rows: lines.map(({ title, counts: { filled, blank, refused, changed } }) => ({
      label: title,
      cells: [filled, blank, refused, changed].map(countCell),
    })),
    notes: [
      "No row is left out in reading. A refused cell counts as missing. Read otherwise: without the spaces around it, without regard to capitals, or with another of several reasons as the main one.",
    ],
    relations: lines.flatMap(({ counts: { filled, blank, refused, empty }, sums }): Relation[] => [
      { total: whole, parts: [filled, empty] },
      { total: empty, parts: [blank, refused] },
      ...sums,
    ]),
  };
}

function fieldLine(filled: FieldFilled, groups: readonly FindingGroup[], knowsPersons: boolean) {
  const { name } = filled.field;
  const own = groups.filter((group) => group.field === name && isOfRows(group));
  const of = (codes: readonly string[]) => own.filter(({ code }) => codes.includes(code));
  const altered = of(CHANGED_CODES);
  const units = altered.reduce((sum, { count }) => sum + count, 0);
  const counts = {
    filled: sized(dataKeys.field(name, "filled"), filled.all.filled),
    empty: sized(dataKeys.field(name, "empty"), filled.all.empty),
    blank: sized(dataKeys.field(name, "blank"), filled.blank),
    refused: sized(dataKeys.field(name, "refused"), filled.unreadable),
    changed: atLeastHalf(dataKeys.field(name, "changed"), units, knowsPersons),
  };
  return {
    title: filled.title,
    counts,
    sums: [
      ...sumOfFindings(counts.refused, of(UNREADABLE_CODES), knowsPersons),
      ...sumOfFindings(counts.changed, altered, knowsPersons),
    ],
  };
}
