import type { ColumnProfile } from "./column-profile.ts";

/** In which order the numeric dates of a whole file are written. */
export interface DateOrder {
  /** "dayFirst" and "monthFirst" are decided; the others are not. */
  readonly order: "dayFirst" | "monthFirst" | "undecidable" | "contradictory" | "none";
  readonly evidence: string;
}

/**
 * One order for the whole file, from all date columns together, never row by row.
 *
 * A part above 12 can only be a day. Where no date has one, both orders are possible and nothing is decided; where some
 * say the one and some the other, the file has no order.
 */
export function dateOrder(columns: readonly ColumnProfile[]): DateOrder {
  const sum = (shape: "dateFirstPartDay" | "dateSecondPartDay" | "dateEitherOrder") =>
    columns.reduce((total, { shapes }) => total + shapes[shape], 0);
  const [first, second, either] = [sum("dateFirstPartDay"), sum("dateSecondPartDay"), sum("dateEitherOrder")];
  const all = first + second + either;
  if (all === 0) return { order: "none", evidence: "" };
  const among = `of ${all} dates in all columns`;
  if (first > 0 && second > 0) {
    return {
      order: "contradictory",
      evidence: `${first} ${among} have a first part above 12 and ${second} a second one: the file has no one order`,
    };
  }
  if (first > 0)
    return { order: "dayFirst", evidence: `day first, as ${first} ${among} have a first part above 12` };
  if (second > 0)
    return {
      order: "monthFirst",
      evidence: `month first, as ${second} ${among} have a second part above 12`,
    };
  return {
    order: "undecidable",
    evidence: `no part ${among} is above 12, so day and month cannot be told apart`,
  };
}
