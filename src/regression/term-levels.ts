import { ArgumentError } from "../base/errors.ts";
import { requireFewColumns } from "./most-columns.ts";
import type { BuiltTerm } from "./term-plan.ts";

/**
 * One column of 0 and 1 for every level that occurs, except the one the others are compared with.
 * `codes` holds a level for each row used.
 */
export function levelColumns(
  term: string,
  codes: ArrayLike<number>,
  labels: readonly string[],
  reference: number,
): BuiltTerm {
  const seen = new Uint32Array(labels.length);
  for (let at = 0; at < codes.length; at += 1) seen[codes[at] ?? 0]! += 1;
  const occurring = labels.flatMap((_, level) => ((seen[level] ?? 0) > 0 ? [level] : []));
  if (codes.length > 0) requireLevels(term, labels, occurring, reference);
  requireFewColumns(`term "${term}"`, occurring.length - 1);
  const against = labels[reference] ?? "";
  const columns = occurring
    .filter((level) => level !== reference)
    .map((level) => {
      const values = new Float64Array(codes.length);
      for (let at = 0; at < codes.length; at += 1) values[at] = codes[at] === level ? 1 : 0;
      return { name: `${term}: ${labels[level]} against ${against}`, values };
    });
  return { columns, reference: against };
}

function requireLevels(
  term: string,
  labels: readonly string[],
  occurring: readonly number[],
  reference: number,
): void {
  const words = occurring.map((level) => labels[level]).join(", ");
  if (!occurring.includes(reference)) {
    throw new ArgumentError(
      `modelMatrix: term "${term}": the reference "${labels[reference]}" does not occur in the rows used; those that do are ${words}`,
    );
  }
  if (occurring.length < 2) {
    throw new ArgumentError(
      `modelMatrix: term "${term}": only "${words}" is left in the rows used, so nothing can be compared; leave the term out`,
    );
  }
}
