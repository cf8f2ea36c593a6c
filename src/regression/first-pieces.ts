import type { Observations } from "../survival/observations.ts";

/** 1 for the earliest of the rows given of each case; without case ids every row is a case. */
export function firstPieces({ caseId, entry }: Observations, row: Int32Array): Uint8Array {
  if (caseId === undefined) return new Uint8Array(row.length).fill(1);
  const isFirst = new Uint8Array(row.length);
  const earliest = new Map<number, number>();
  for (let i = 0; i < row.length; i += 1) {
    const known = earliest.get(caseId[row[i]!]!);
    if (known === undefined || (entry?.[row[i]!] ?? -1) < (entry?.[row[known]!] ?? -1)) {
      earliest.set(caseId[row[i]!]!, i);
    }
  }
  for (const i of earliest.values()) isFirst[i] = 1;
  return isFirst;
}
