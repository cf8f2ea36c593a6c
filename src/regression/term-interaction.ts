import type { ModelColumn } from "./model-matrix.ts";
import type { TermPlan } from "./term-plan.ts";

/**
 * How the effect of one term changes with another: the product of each column of the one with each of the other.
 *
 * The two terms themselves are not added; leave them in the model, or the coefficients depend on the references and on
 * where numbers are 0.
 *
 * @example
 * interactionTerm(numberTerm("age"), categoryTerm("stage", { reference: "early" })).name; // "age × stage"
 */
export function interactionTerm(first: TermPlan, second: TermPlan): TermPlan {
  return {
    name: `${first.name} × ${second.name}`,
    kind: "interaction",
    needs: (columnOf) => [...first.needs(columnOf), ...second.needs(columnOf)],
    build: (columnOf, rows) => {
      const { columns: others } = second.build(columnOf, rows);
      return { columns: first.build(columnOf, rows).columns.flatMap((one) => others.map(productWith(one))) };
    },
  };
}

function productWith(one: ModelColumn) {
  return (other: ModelColumn): ModelColumn => ({
    name: `${one.name} × ${other.name}`,
    values: one.values.map((value, at) => value * (other.values[at] ?? 0)),
  });
}
