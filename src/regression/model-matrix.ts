/** One column of a model: what a coefficient multiplies. */
export interface ModelColumn {
  /** Unique in the model, and ready to print: "age, per 10 years", "stage: late against early". */
  readonly name: string;
  /** One value a row, finite, in the caller's units. */
  readonly values: Float64Array;
}

/** Columns that enter or leave a model together. */
export interface ModelTerm {
  readonly name: string;
  readonly kind: "number" | "category" | "curve" | "interaction" | "period";
  /** First of the term's columns, and how many there are. */
  readonly from: number;
  readonly columns: number;
  /** The level that every other level is compared with; categories only. */
  readonly reference?: string;
  /** Where a curve may bend, in the caller's units; curves only. */
  readonly knots?: readonly number[];
}

/** Rows a model cannot use, counted by the first reason that applies. */
export interface RowsLost {
  readonly term: string;
  readonly reason: string;
  readonly rows: number;
}

/**
 * The covariates of a model, without a constant column.
 * Row i of every column belongs to row `rows[i]` of the table that the terms were built from.
 */
export interface ModelMatrix {
  readonly rows: Int32Array;
  readonly columns: readonly ModelColumn[];
  readonly terms: readonly ModelTerm[];
  readonly lost: readonly RowsLost[];
}
