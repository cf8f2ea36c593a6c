/** Text as a string of TypeScript. */
export function quoted(text: string): string {
  return JSON.stringify(text);
}

/** Words of a dictionary for a comment: one line, whatever they hold. */
export function commented(text: string): string {
  return text
    .replace(/[\s\u2028\u2029]+/g, " ")
    .replaceAll("*/", "* /")
    .trim();
}

/** A union of texts, on one line where it fits into `width`, else one text a line. */
export function union(words: readonly string[], indent: string, width: number): string {
  if (words.length === 0) return "never";
  const line = words.map(quoted).join(" | ");
  if (line.length <= width) return line;
  return words.map((word) => `\n${indent}  | ${quoted(word)}`).join("");
}

/** A comment of a heading and one line an item. */
export function commentLines(heading: string, items: readonly string[]): string[] {
  return [heading, ...items.map((item) => `  ${commented(item)}`)].map((line) => `  // ${line}`);
}
