const NARROWEST = 40;
/** Lines that go on stand this much further in. */
const FURTHER = "  ";

/**
 * A text broken at spaces, so that no line of a terminal is cut inside a word. `columns` is its width; a text that goes
 * to a file or another program has none and stays as it is.
 */
export function wrappedText(text: string, columns: number | undefined): string {
  if (columns === undefined || columns < NARROWEST) return text;
  return text
    .split("\n")
    .map((line) => wrappedLine(line, columns))
    .join("\n");
}

function wrappedLine(line: string, columns: number): string {
  if (line.length <= columns) return line;
  const indent = /^ */.exec(line)?.[0] ?? "";
  const lines: string[] = [];
  let current = indent;
  for (const word of line.trim().split(" ")) {
    const isEmpty = current.trim() === "";
    const longer = isEmpty ? current + word : `${current} ${word}`;
    if (longer.length <= columns || isEmpty) current = longer;
    else {
      lines.push(current);
      current = `${indent}${FURTHER}${word}`;
    }
  }
  return [...lines, current].join("\n");
}
