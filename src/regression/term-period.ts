import { ArgumentError } from "../base/errors.ts";
import { finiteValues, numbersOf } from "./term-columns.ts";
import { levelColumns } from "./term-levels.ts";
import type { TermPlan } from "./term-plan.ts";

export interface PeriodTermOptions {
  /** Where one period ends and the next begins, ascending: a value on a cut belongs to the period before it. */
  readonly cuts: readonly number[];
  /** Words for the periods, one more than there are cuts. */
  readonly labels: readonly string[];
  /** The period that every other one is compared with. Default the first. */
  readonly reference?: string;
  /** The word shown to readers. Default the field's name. */
  readonly word?: string;
}

/**
 * The period (a, b] in which a number or a day falls: calendar time, or follow-up cut in rows.
 *
 * @example
 * periodTerm("operation", { cuts: [14609], labels: ["to 2009", "from 2010"] }).kind; // "period"
 */
export function periodTerm(field: string, options: PeriodTermOptions): TermPlan {
  const { cuts, labels, reference = labels[0] ?? "", word = field } = options;
  const level = labels.indexOf(reference);
  if (
    cuts.length === 0 ||
    cuts.some((cut, at) => !Number.isFinite(cut) || cut <= (cuts[at - 1] ?? -Infinity))
  )
    throw new ArgumentError(`periodTerm: "${word}" needs one or more cuts, finite and ascending`);
  if (labels.length !== cuts.length + 1 || new Set(labels).size < labels.length) {
    throw new ArgumentError(
      `periodTerm: "${word}" needs ${cuts.length + 1} different labels for ${cuts.length} cuts; received ${labels.length}`,
    );
  }
  if (level < 0) throw new ArgumentError(`periodTerm: "${reference}" is not among ${labels.join(", ")}`);
  return {
    name: word,
    kind: "period",
    needs: (columnOf) => [columnOf(word, field)],
    build: (columnOf, rows) => {
      const periodOf = (value: number) =>
        Number.isFinite(value) ? cuts.filter((cut) => cut < value).length : Number.NaN;
      const periods = finiteValues(word, numbersOf(word, columnOf(word, field)), rows, periodOf);
      return levelColumns(word, periods, labels, level);
    },
  };
}
