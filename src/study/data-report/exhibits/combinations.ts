import type { Cases } from "../../../cases/cases.ts";
import type { SmallCombinations } from "../../../cases/small-combinations.ts";
import type { TableExhibit } from "../../../disclosure/exhibit.ts";
import type { UnitCount } from "../../../technique/row-codes.ts";
import { fieldTitle } from "../../../technique/step-states.ts";
import { shareCell } from "../../sections/cells.ts";
import { listed } from "../../words.ts";
import { allRowsCount, atLeastHalf } from "../data-keys.ts";

/** How many rows can be found by what is known of a person outside the export. */
export function combinationsExhibit(
  cases: Cases,
  { fields, alone, below, rows }: SmallCombinations,
  size: UnitCount,
  knowsPersons: boolean,
): TableExhibit[] {
  if (fields.length === 0) return [];
  const whole = allRowsCount(size);
  const lines = [
    { label: "the only row with its combination", units: alone },
    { label: "shared with one to three other rows", units: below },
    { label: "shared with four or more", units: rows - alone - below },
  ].map(({ label, units }) => ({ label, count: atLeastHalf(`combination/${label}`, units, knowsPersons) }));
  return [
    {
      kind: "table",
      id: "combinations",
      title: `Rows by how many share their ${listed(fields.map((field) => fieldTitle(cases, field)))}`,
      columns: [
        { id: "combination", label: "Combination" },
        { id: "number", label: "Rows", align: "end" },
      ],
      rows: lines.map(({ label, count }) => ({ label, cells: [shareCell(count, whole)] })),
      notes: [
        "Whoever knows these of a person finds a row that stands alone, whatever its identifiers were replaced by.",
      ],
      relations: [{ total: whole, parts: lines.map(({ count }) => count) }],
    },
  ];
}
