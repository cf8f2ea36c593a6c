import { type Answer, notComputed } from "../../base/answer.ts";
import type { Findings } from "../../base/finding.ts";
import type { Cases } from "../../cases/cases.ts";
import { columnOfRole } from "../../cases/column-of-role.ts";
import type { ExportDescriptor } from "../../cases/descriptor.ts";
import type { LoadedDescriptor } from "../../cases/load-descriptor.ts";
import type { SmallCombinations } from "../../cases/small-combinations.ts";
import { loosenedComponents } from "../../cohort/loosened-components.ts";
import type { Exhibit } from "../../disclosure/exhibit.ts";
import { personCodes } from "../../technique/row-codes.ts";
import type { ExaminedExport } from "./examine-export.ts";
import { combinationsExhibit } from "./exhibits/combinations.ts";
import { completenessExhibits } from "./exhibits/completeness.ts";
import { componentsExhibit } from "./exhibits/components.ts";
import { dictionaryExhibit } from "./exhibits/dictionary.ts";
import { fieldsExhibit } from "./exhibits/fields.ts";
import { findingsExhibit } from "./exhibits/findings.ts";
import { followedExhibits } from "./exhibits/followed.ts";
import { heapingExhibit } from "./exhibits/heaping.ts";
import { linkageExhibit } from "./exhibits/linkage.ts";
import { reasonsExhibit } from "./exhibits/reasons.ts";
import { fieldSheet } from "./field-sheet.ts";
import { type FollowedGroups, followedGroups } from "./followed-groups.ts";
import { reasonCounts } from "./reason-counts.ts";

/** Everything the page of an export is made from, before disclosure control. */
export interface DataReport {
  readonly descriptor: ExportDescriptor;
  readonly hashes: { readonly descriptor: string; readonly export?: string };
  readonly isTable: boolean;
  readonly followed: Answer<FollowedGroups>;
  readonly exhibits: readonly Exhibit[];
}

/** All tables of the page; of a file that is no table, what was found and the dictionary. */
export function gatherDataReport(loaded: LoadedDescriptor, examined: ExaminedExport): DataReport {
  const { descriptor } = loaded;
  const { cases, findings } = examined;
  const base = { descriptor, isTable: cases !== undefined };
  if (cases === undefined || cases.rows === 0) {
    return {
      ...base,
      hashes: { descriptor: loaded.hash, ...(cases && { export: cases.source.fileHash }) },
      followed: notComputed("no-rows", "the export could not be read as a table with rows"),
      exhibits: [findingsExhibit(findings, false), dictionaryExhibit(descriptor)],
    };
  }
  const persons = personCodes(cases);
  const followed = followedGroups(cases, persons);
  return {
    ...base,
    hashes: { descriptor: loaded.hash, export: cases.source.fileHash },
    followed,
    exhibits: exhibitsOf(cases, examined.combinations, findings, followed),
  };
}

function exhibitsOf(
  cases: Cases,
  combinations: SmallCombinations,
  findings: Findings,
  followed: Answer<FollowedGroups>,
): Exhibit[] {
  const persons = personCodes(cases);
  const knowsPersons = columnOfRole(cases, "patientId") !== undefined;
  const sheet = fieldSheet(cases, persons);
  const reasons = reasonCounts(cases, persons);
  const loosened = loosenedComponents(cases);
  return [
    findingsExhibit(findings, knowsPersons),
    fieldsExhibit(sheet, findings, knowsPersons),
    ...completenessExhibits(sheet),
    ...followedExhibits(followed, cases.descriptor.study.unit.many, knowsPersons),
    ...(reasons === undefined ? [] : [reasonsExhibit(reasons, findings.groups, knowsPersons)]),
    ...(loosened === undefined ? [] : componentsExhibit(loosened, knowsPersons)),
    ...linkageExhibit(cases.linkage ?? [], findings, knowsPersons),
    ...combinationsExhibit(cases, combinations, sheet.rows, knowsPersons),
    ...heapingExhibit(findings, knowsPersons),
    dictionaryExhibit(cases.descriptor),
  ];
}
