import type { Column } from "../base/column.ts";
import type { ModelColumn, ModelTerm } from "./model-matrix.ts";
import type { ColumnOf } from "./term-columns.ts";

/** What a term becomes once the rows are known. */
export interface BuiltTerm {
  readonly columns: readonly ModelColumn[];
  readonly reference?: string;
  readonly knots?: readonly number[];
}

/** One part of a model, as the functions that end in `Term` make it. */
export interface TermPlan {
  /** Unique in the model; coefficients and tests are named after it. */
  readonly name: string;
  readonly kind: ModelTerm["kind"];
  /** The columns whose missing values cost the term a row. */
  readonly needs: (columnOf: ColumnOf) => readonly Column[];
  /** The term's columns on the rows that every term of the model can use. */
  readonly build: (columnOf: ColumnOf, rows: Int32Array) => BuiltTerm;
}
