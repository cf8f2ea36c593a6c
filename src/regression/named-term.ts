import { ArgumentError } from "../base/errors.ts";
import type { ModelMatrix, ModelTerm } from "./model-matrix.ts";

/** The term of that name; refused where the model has none. */
export function namedTerm(where: string, matrix: ModelMatrix, name: string): ModelTerm {
  const found = matrix.terms.find((term) => term.name === name);
  if (found !== undefined) return found;
  const names = matrix.terms.map((term) => `"${term.name}"`).join(", ");
  throw new ArgumentError(`${where}: the model has no term "${name}"; its terms are ${names}`);
}

/** Refuses a term whose columns also stand in products: they would have to change with it. */
export function requireNoInteraction(where: string, { terms }: ModelMatrix, name: string): void {
  const mixed = terms.find((term) => term.kind === "interaction" && term.name.split(" × ").includes(name));
  if (mixed === undefined) return;
  throw new ArgumentError(
    `${where}: "${name}" is part of "${mixed.name}"; leave the interaction out, or build matrices from changed tables`,
  );
}
