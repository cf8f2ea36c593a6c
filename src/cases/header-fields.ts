import type { FindingLog } from "../base/finding-log.ts";

const OTHER_DELIMITERS: readonly (readonly [string, string])[] = [
  [";", "semicolon"],
  [",", "comma"],
  ["\t", "tab"],
  ["|", "vertical bar"],
];

/** Names of the columns, from a header in which quotes are known to be closed. Faults go to the log. */
export function headerFields(text: string, delimiter: string, quote: string, log: FindingLog): string[] {
  const names = splitFields(text, delimiter, quote);
  const other = OTHER_DELIMITERS.find(([mark]) => mark !== delimiter && text.includes(mark));
  if (names.length === 1 && other !== undefined) {
    log.add({ code: "wrong-delimiter", severity: "error", line: 1, details: { found: other[1] } });
  }
  checkColumnNames(names, log);
  return names;
}

/** Every column has a name of its own. */
export function checkColumnNames(names: readonly string[], log: FindingLog): void {
  const report = (code: string, details: Record<string, number>) =>
    log.add({ code, severity: "error", line: 1, details });
  names.forEach((name, index) => {
    const first = names.indexOf(name);
    if (name === "") report("header-blank", { column: index + 1 });
    else if (first < index) report("header-repeated", { column: index + 1, first: first + 1 });
  });
}

function splitFields(text: string, delimiter: string, quote: string): string[] {
  const names: string[] = [];
  let name = "";
  let isQuoted = false;
  for (let at = 0; at < text.length; at += 1) {
    const mark = text[at];
    if (mark === quote && isQuoted && text[at + 1] === quote) {
      name += quote;
      at += 1;
    } else if (mark === quote) isQuoted = !isQuoted;
    else if (mark === delimiter && !isQuoted) {
      names.push(name);
      name = "";
    } else name += mark;
  }
  return [...names, name];
}
