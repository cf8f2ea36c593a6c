import { ArgumentError } from "../base/errors.ts";
import type { ClearedLines } from "./cleared.ts";
import type { ExhibitLine, LineExhibit } from "./exhibit.ts";
import { fullFigures } from "./full-figures.ts";

/**
 * Lines as analysts see them: all points, with 12 significant digits.
 *
 * @throws ArgumentError where the columns of a line differ in length.
 */
export function clearLines(exhibit: LineExhibit): ClearedLines {
  const { lines, notes = [], settings = {}, ...rest } = exhibit;
  return { ...rest, lines: lines.map((line) => clearLine(exhibit.id, line)), notes, settings };
}

function clearLine(id: string, line: ExhibitLine): ClearedLines["lines"][number] {
  const { label, style, pieces = false, thin = false, share = false, x, y, low = [], high = [] } = line;
  const isEven =
    y.length === x.length && [low, high].every(({ length }) => length === 0 || length === x.length);
  if (!isEven || low.length !== high.length) {
    throw new ArgumentError(`disclose: line "${label}" of exhibit "${id}" has columns of different lengths`);
  }
  const limit = (value: number | null) => (value === null ? null : fullFigures(value));
  return {
    label,
    style,
    pieces,
    thin,
    share,
    x: x.map(fullFigures),
    y: y.map(fullFigures),
    low: low.map(limit),
    high: high.map(limit),
  };
}
