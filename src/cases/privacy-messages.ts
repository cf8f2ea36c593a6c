import { IDENTIFIER_KINDS } from "./privacy-kinds.ts";
import type { Sentence, Sentences } from "./sentences.ts";

const WHAT_TO_DO =
  '; take it out or replace it ("mantle pseudonymise"), or say under "notPersonal" in the dictionary why it is none';

/** What the search for persons found. Columns and counts alone: no value, and no name of a column that is not described. */
export const PRIVACY_SENTENCES: Sentences = {
  ...Object.fromEntries(
    Object.values(IDENTIFIER_KINDS).map(({ code, words }): [string, Sentence] => [
      code,
      ({ values, column, evidence }) =>
        `${column === undefined ? "" : `column ${column} of the file `}holds ${words} by ${evidence}${rowsIn(values)}${WHAT_TO_DO}`,
    ]),
  ),
  "file-name-identifies": () =>
    "the name of the file looks as if it named a person; rename the file and correct the path in the descriptor",
  "declared-not-personal": ({ values, what }) =>
    `looks like ${what}${rowsIn(values)}, but the dictionary says why it is none; look whether that is still true`,
  "small-combinations": ({ rows, below, alone, fields }) =>
    `${alone} of ${rows} rows are the only one with their ${fields}, and ${below} share it with fewer than four others: whoever knows these of a person finds the row; keep the file as personal data, or make these fields coarser before it is shared`,
};

/** Nothing where the number is not to be told. */
function rowsIn(values: string | number | undefined): string {
  return values === undefined ? "" : ` (${values} ${values === 1 ? "row" : "rows"})`;
}
