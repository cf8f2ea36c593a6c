import { roundSignificant } from "../base/display.ts";

/** As many as analysts get: fewer than a double has, so that equal results print equal digits. */
const FULL_FIGURES = 12;

/** A number as it stands in analysts' files. */
export function fullFigures(value: number): number {
  return roundSignificant(value, FULL_FIGURES);
}
