/** A piece of a notebook's text that is no space and no comment. */
export interface NotebookToken {
  readonly kind: "text" | "word" | "mark";
  /** A text in quotes stands without them. */
  readonly text: string;
  /** Counted from 1. */
  readonly line: number;
}

const PIECES =
  /(?<space>\s+|\/\/[^\n]*|\/\*[\s\S]*?\*\/)|(?<text>"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'|`(?:\\.|[^`\\])*`)|(?<word>[\p{L}\p{N}_$]+)|(?<mark>\.\.\.|[\s\S])/gu;

/**
 * The words, texts in quotes and marks of a notebook, each with its line. Enough to find where a plan says something; no
 * grammar is known, so whoever uses it must look whether what is found there is what was looked for.
 */
export function notebookTokens(source: string): readonly NotebookToken[] {
  const tokens: NotebookToken[] = [];
  let line = 1;
  for (const { 0: piece, groups = {} } of source.matchAll(PIECES)) {
    if (groups.text !== undefined) tokens.push({ kind: "text", text: unquoted(piece), line });
    else if (groups.space === undefined)
      tokens.push({ kind: groups.word === undefined ? "mark" : "word", text: piece, line });
    line += piece.split("\n").length - 1;
  }
  return tokens;
}

/** What a text in quotes says; one with unusual escapes is left as it is written. */
function unquoted(piece: string): string {
  return piece.slice(1, -1).replace(/\\(["'`\\])/g, "$1");
}
