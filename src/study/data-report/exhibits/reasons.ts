import type { Relation, TableExhibit } from "../../../disclosure/exhibit.ts";
import { keyPart } from "../../../disclosure/key-part.ts";
import { countCell, shareCell, sized, textCell } from "../../cells.ts";
import { atLeastHalf, dataKeys } from "../data-keys.ts";
import type { ReasonCounts } from "../reason-counts.ts";

/** Reasons for revision: the main one, and those ticked beside it. */
export function reasonsExhibit(
  { field, all, reasons, several }: ReasonCounts,
  knowsPersons: boolean,
): TableExhibit {
  const whole = sized(dataKeys.field(field, "filled"), all);
  const counts = reasons.map(({ label, main, beside }) => ({
    label,
    main: sized(`reason/${keyPart(label)}/main`, main),
    beside: beside && sized(`reason/${keyPart(label)}/beside`, beside),
  }));
  const ticked = several && severalCounts(several, field, knowsPersons);
  return {
    kind: "table",
    id: "reasons",
    title: "Reasons for revision",
    columns: [
      { id: "reason", label: "Reason" },
      { id: "main", label: "Main reason", align: "end" },
      ...(several === undefined
        ? []
        : [{ id: "beside", label: "Ticked beside another", align: "end" as const }]),
    ],
    rows: [
      ...counts.map(({ label, main, beside }) => ({
        label,
        cells: [shareCell(main, whole), ...(beside === undefined ? [] : [countCell(beside)])],
      })),
      {
        label: "All with a reason",
        cells: [countCell(whole), ...(ticked === undefined ? [] : [textCell("")])],
      },
      ...(ticked === undefined
        ? []
        : [
            { label: "Several reasons ticked", cells: [countCell(ticked.several), textCell("")] },
            {
              label: "Counts under another reason than the one written first",
              cells: [countCell(ticked.changed), textCell("")],
            },
          ]),
    ],
    notes:
      several === undefined
        ? ["The field holds one reason only; others, if there were any, are not in the export."]
        : ["Of several reasons the first in a stated order is the main one; all of them are kept."],
    relations: [
      { total: whole, parts: counts.map(({ main }) => main) },
      ...(ticked === undefined ? [] : ticked.relations(whole)),
    ],
  };
}

/** The same counts as those of the findings, and what is left without them. */
function severalCounts(
  { ticked, changed }: NonNullable<ReasonCounts["several"]>,
  field: string,
  knowsPersons: boolean,
) {
  const count = (key: string, units: number) => atLeastHalf(key, units, knowsPersons);
  const several = count(dataKeys.finding("several-reasons-ticked", field), ticked);
  const altered = count(dataKeys.finding("main-reason-by-order", field), changed);
  const asWritten = count("reason/several as written", ticked - changed);
  return {
    several,
    changed: altered,
    relations: (whole: Relation["total"]): Relation[] => [
      { total: several, parts: [altered, asWritten] },
      { total: whole, parts: [several, count("reason/one alone", whole.units - ticked)] },
    ],
  };
}
