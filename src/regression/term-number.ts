import { requirePositive } from "../numeric/argument-checks.ts";
import { finiteValues, numbersOf } from "./term-columns.ts";
import type { TermPlan } from "./term-plan.ts";

export interface NumberTermOptions {
  /** The step that a coefficient stands for, above 0. Default 1. */
  readonly per?: number;
  /** What `per` counts: "years". */
  readonly unit?: string;
  /** The word shown to readers. Default the field's name. */
  readonly word?: string;
}

/**
 * A straight-line effect of a number or a day: the coefficient is for a step of `per`.
 *
 * @example
 * numberTerm("age", { per: 10, unit: "years" }).name; // "age, per 10 years"
 */
export function numberTerm(field: string, options: NumberTermOptions = {}): TermPlan {
  const { per = 1, unit, word = field } = options;
  requirePositive("numberTerm", "per", per);
  const step = [per === 1 && unit !== undefined ? "" : `${per}`, unit ?? ""].filter((part) => part !== "");
  const name = per === 1 && unit === undefined ? word : `${word}, per ${step.join(" ")}`;
  return {
    name,
    kind: "number",
    needs: (columnOf) => [columnOf(name, field)],
    build: (columnOf, rows) => ({
      columns: [
        {
          name,
          values: finiteValues(name, numbersOf(name, columnOf(name, field)), rows, (value) => value / per),
        },
      ],
    }),
  };
}
