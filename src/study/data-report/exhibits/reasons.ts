import type { FindingGroup } from "../../../base/finding.ts";
import type { Count, Relation, TableExhibit } from "../../../disclosure/exhibit.ts";
import { keyPart } from "../../../disclosure/key-part.ts";
import { countCell, shareCell, sized, textCell } from "../../sections/cells.ts";
import { atLeastHalf, dataKeys, findingCount } from "../data-keys.ts";
import type { ReasonCounts } from "../reason-counts.ts";

/** Reasons for revision: the main one, and those ticked beside it. */
export function reasonsExhibit(
  { field, all, reasons, several }: ReasonCounts,
  findings: readonly FindingGroup[],
  knowsPersons: boolean,
): TableExhibit {
  const whole = sized(dataKeys.field(field, "filled"), all);
  const counts = reasons.map(({ label, main, beside }) => ({
    label,
    main: sized(`reason/${keyPart(label)}/main`, main),
    beside: beside && sized(`reason/${keyPart(label)}/beside`, beside),
  }));
  const ticked = several && severalCounts(several, findings, knowsPersons);
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

/** The counts of knees with several reasons, and what is left without them. */
function severalCounts(
  { ticked, changed, foundAs }: NonNullable<ReasonCounts["several"]>,
  findings: readonly FindingGroup[],
  knowsPersons: boolean,
) {
  const several = partOfFindings("several-reasons-ticked", ticked, foundAs, findings, knowsPersons);
  const altered = partOfFindings("main-reason-by-order", changed, foundAs, findings, knowsPersons);
  const asWritten = atLeastHalf("reason/several as written", ticked - changed, knowsPersons);
  return {
    several: several.count,
    changed: altered.count,
    relations: (whole: Relation["total"]): Relation[] => [
      ...several.relations,
      ...altered.relations,
      { total: several.count, parts: [altered.count, asWritten] },
      {
        total: whole,
        parts: [several.count, atLeastHalf("reason/one alone", whole.units - ticked, knowsPersons)],
      },
    ],
  };
}

/**
 * A number of knees of which there are findings. In one table they are the findings; of a second table only the rows that
 * met a case are among the knees, so the difference must not be given away.
 */
function partOfFindings(
  code: string,
  units: number,
  foundAs: readonly string[],
  findings: readonly FindingGroup[],
  knowsPersons: boolean,
): { readonly count: Count; readonly relations: readonly Relation[] } {
  const groups = findings.filter((group) => group.code === code && foundAs.includes(group.field ?? ""));
  const parts = groups.map((group) => findingCount(group, knowsPersons));
  const found = parts.reduce((sum, part) => sum + part.units, 0);
  const [only] = parts;
  if (only !== undefined && parts.length === 1 && found === units) return { count: only, relations: [] };
  const count = atLeastHalf(`reason/${code}`, units, knowsPersons);
  const total = atLeastHalf(`reason/${code}/found`, found, knowsPersons);
  const others = atLeastHalf(`reason/${code}/not a knee`, found - units, knowsPersons);
  return {
    count,
    relations:
      parts.length === 0 || found < units
        ? []
        : [
            { total, parts },
            { total, parts: [count, others] },
          ],
  };
}
