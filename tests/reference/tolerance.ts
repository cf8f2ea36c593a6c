import type { ReferenceRecord } from "./reference-files.ts";

/** Two numbers agree within the relative or within the absolute distance, whichever allows more. */
export interface Tolerance {
  readonly relative: number;
  readonly absolute: number;
}

export const EXACT: Tolerance = { relative: 0, absolute: 0 };

/**
 * The tolerance a record asks for, read from its sentence: "rel 1e-12", "abs 1e-14 or rel 1e-13", "exact".
 *
 * Where parts of a record have tolerances of their own ("estimates rel 1e-11; each se rel 1e-9"), `part` names the word in
 * front; without it the first one counts.
 */
export function toleranceOf(record: ReferenceRecord, part?: string): Tolerance {
  const text = part === undefined ? record.tolerance : afterWord(record, part);
  if (part === undefined && text.startsWith("exact")) return EXACT;
  const [relative, absolute] = ["rel", "abs"].map((kind) => firstOf(kind, text)[0]);
  if (relative === undefined) throw new Error(`${record.id}: no tolerance in "${record.tolerance}"`);
  return { relative, absolute: absolute ?? 0 };
}

/** The widest tolerance a record names: for comparing all of it with a second run. */
export function widestTolerance(record: ReferenceRecord): Tolerance {
  const widest = (kind: string) => Math.max(0, ...firstOf(kind, record.tolerance));
  return { relative: widest("rel"), absolute: widest("abs") };
}

/** Written so that a number that is none never agrees. */
export function agrees(actual: number, expected: number, { relative, absolute }: Tolerance): boolean {
  return Math.abs(actual - expected) <= Math.max(absolute, relative * Math.abs(expected));
}

function afterWord(record: ReferenceRecord, word: string): string {
  const at = record.tolerance.indexOf(`${word} rel`);
  if (at < 0) throw new Error(`${record.id}: no tolerance for ${word} in "${record.tolerance}"`);
  return record.tolerance.slice(at);
}

function firstOf(kind: string, text: string): number[] {
  return [...text.matchAll(new RegExp(`${kind} (1e-\\d+)`, "g"))].map((match) => Number(match[1]));
}
