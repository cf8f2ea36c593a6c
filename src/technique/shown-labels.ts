import type { CodeColumn } from "../base/column.ts";
import type { Cases } from "../cases/cases.ts";
import { isDeclared } from "./named-column.ts";
import { fieldTitle } from "./step-states.ts";

/**
 * What readers are shown for each code of a column: the dictionary's words, or, for a field whose codes the dictionary
 * does not list, the field's title and a number. Codes that stand only in the file can name a place or a person.
 */
export function shownLabels(cases: Cases, column: CodeColumn): readonly string[] {
  if (isDeclared(cases, column)) return column.labels;
  const title = fieldTitle(cases, column.field);
  return column.codes.map((_, at) => `${title} ${at + 1}`);
}
