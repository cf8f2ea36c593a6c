/**
 * One row of a table for a terminal, in as many lines as its longest cell takes. Cells are wrapped at words to their
 * `widths`; those from `numbersFrom` on stand at the right.
 */
export function cellLines(
  cells: readonly string[],
  widths: readonly number[],
  numbersFrom = widths.length,
): string[] {
  const wrapped = cells.map((cell, at) => wrap(cell, widths[at] ?? 0));
  const height = Math.max(...wrapped.map((lines) => lines.length));
  return Array.from({ length: height }, (_, line) =>
    wrapped
      .map((lines, at) => {
        const text = lines[line] ?? "";
        const width = widths[at] ?? 0;
        return at < numbersFrom ? text.padEnd(width) : text.padStart(width);
      })
      .join(" ")
      .trimEnd(),
  );
}

/** Beneath the heads of such a table. */
export function ruleLine(widths: readonly number[]): string {
  return "-".repeat(widths.reduce((sum, width) => sum + width + 1, -1));
}

/** Breaks at spaces; a word longer than the line is cut. */
function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    if (line !== "" && line.length + 1 + word.length > width) {
      lines.push(line);
      line = "";
    }
    line = line === "" ? word : `${line} ${word}`;
    while (line.length > width) {
      lines.push(line.slice(0, width));
      line = line.slice(width);
    }
  }
  return [...lines, line];
}
