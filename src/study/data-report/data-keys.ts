import type { FindingGroup } from "../../base/finding.ts";
import type { Count, Relation } from "../../disclosure/exhibit.ts";
import { keyPart } from "../../disclosure/key-part.ts";
import type { UnitCount } from "../../technique/row-codes.ts";
import { sized } from "../sections/cells.ts";

/** What the rows are divided by. */
export const LEVEL_WORDS = { year: "year of operation", centre: "centre" } as const;

/** Keys of the counts that several tables of the page share. */
export const dataKeys = {
  rows: "rows",
  finding: (code: string, field = "") => `finding/${code}/${keyPart(field)}`,
  field: (name: string, what: string) => `field/${keyPart(name)}/${what}`,
  level: (kind: string, label: string) => `rows/at/${keyPart(kind)}/${keyPart(label)}`,
  fieldAt: (name: string, what: string, kind: string, label: string) =>
    `field/${keyPart(name)}/${what}/at/${keyPart(kind)}/${keyPart(label)}`,
} as const;

/** All rows of the export: what every table is a part of. */
export function allRowsCount(size: UnitCount): Count {
  return { ...sized(dataKeys.rows, size), keep: true };
}

/** Rows with a finding. Nobody has more than two knees, so they belong to half as many persons at least. */
export function findingCount({ code, field, count }: FindingGroup, knowsPersons: boolean): Count {
  return atLeastHalf(dataKeys.finding(code, field), count, knowsPersons);
}

/** A number of units whose persons were not counted. */
export function atLeastHalf(key: string, units: number, knowsPersons: boolean): Count {
  return knowsPersons ? { key, units, persons: Math.ceil(units / 2) } : { key, units };
}

/** A finding about rows, not about a column or a file. */
export function isOfRows({ first }: FindingGroup): boolean {
  return first[0]?.row !== undefined;
}

/**
 * That a count is what findings of these codes add up to, where it is: the same number stands in two tables.
 *
 * `rest` is the part of the count of which there is no finding.
 */
export function sumOfFindings(
  total: Count,
  groups: readonly FindingGroup[],
  knowsPersons: boolean,
  rest?: Count,
): Relation[] {
  const parts = [
    ...groups.map((group) => findingCount(group, knowsPersons)),
    ...(rest === undefined ? [] : [rest]),
  ];
  const sum = parts.reduce((units, part) => units + part.units, 0);
  return groups.length > 0 && sum === total.units ? [{ total, parts }] : [];
}
