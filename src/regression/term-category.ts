import type { CodeColumn } from "../base/column.ts";
import { ArgumentError } from "../base/errors.ts";
import type { ColumnOf } from "./term-columns.ts";
import { levelColumns } from "./term-levels.ts";
import type { TermPlan } from "./term-plan.ts";

export interface CategoryTermOptions {
  /** The level that every other one is compared with, as a code of the file or as a label. */
  readonly reference: string;
  /** The word shown to readers. Default the field's name. */
  readonly word?: string;
}

/**
 * A category, each level against a named reference.
 *
 * Levels that do not occur in the rows used get no column. Which level is the reference changes what the coefficients
 * say and nothing else of the fit.
 *
 * @example
 * categoryTerm("stage", { reference: "early" }).name; // "stage"
 */
export function categoryTerm(field: string, options: CategoryTermOptions): TermPlan {
  const { reference, word = field } = options;
  const codesOf = (columnOf: ColumnOf): CodeColumn => {
    const column = columnOf(word, field);
    if (column.kind === "code") return column;
    throw new ArgumentError(
      `modelMatrix: term "${word}" needs a column of codes, and "${field}" holds ${column.kind} values`,
    );
  };
  return {
    name: word,
    kind: "category",
    needs: (columnOf) => [codesOf(columnOf)],
    build: (columnOf, rows) => {
      const { codes, labels, values } = codesOf(columnOf);
      const level = codes.includes(reference) ? codes.indexOf(reference) : labels.indexOf(reference);
      if (level < 0) {
        throw new ArgumentError(
          `modelMatrix: term "${word}": "${reference}" is no level of "${field}"; its levels are ${labels.join(", ")}`,
        );
      }
      const used = new Uint16Array(rows.length);
      for (let at = 0; at < rows.length; at += 1) used[at] = values[rows[at] ?? 0] ?? 0;
      return levelColumns(word, used, labels, level);
    },
  };
}
