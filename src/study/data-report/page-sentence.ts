import type { FindingGroup } from "../../base/finding.ts";
import { findingSentence } from "../../cases/messages.ts";

/** Numbers and words that a page may repeat: limits, columns and declared words, never a row or a number of rows. */
const SAFE_DETAILS: readonly string[] = [
  ...["limit", "low", "high", "years", "year", "earliest", "unit", "other", "what", "evidence"],
  ...["column", "first", "expected", "found", "stated", "mark", "encoding", "codes", "apart"],
  ...["gibibytes", "now", "megabytes", "unpacked", "sheets", "cases", "table"],
];

const ANOTHER = "\u0000";

/** Codes whose sentence counts rows. The numbers stand in tables of their own, where small ones are hidden. */
const WITHOUT_NUMBERS: Readonly<Record<string, string>> = {
  "records-lost":
    "the file holds more records than were read; nothing is analysed on a part: export it again",
  "rows-hidden":
    "rows are hidden in the sheet and were read like all others; take them out if they do not belong",
  "column-in-other-unit":
    "most values are in another unit than the dictionary says; nothing was converted: correct the export",
  "dates-and-serial-numbers":
    "holds serial numbers and written dates; both were read, but look at how the column came about, and export it in one form",
  "link-counts": "was joined to the cases; how its rows met them is told below",
  "dates-heaped":
    "stands on one day of the month far more often than by chance; exact days may not have been known: ask how they were written down",
  "numbers-rounded":
    "ends in 0 or 5 far more often than by chance; the values were rounded: ask for them as they were measured",
  "surgeon-never-fills":
    "is never filled by one or more of the surgeons, though the others fill it; complete it or leave their rows out knowingly",
  "centre-never-fills":
    "is never filled by one or more of the centres, though the others fill it; complete it or leave their rows out knowingly",
  "small-combinations":
    "some rows share their age, sex, centre and day with few others or with nobody: whoever knows these of a person finds the row; keep the file as personal data",
};

/** What a finding means and what to do, in words that point at no row and count none. */
export function pageSentence({ code, field, first }: Pick<FindingGroup, "code" | "field" | "first">): string {
  const own = WITHOUT_NUMBERS[code];
  if (own !== undefined) return own;
  const known = Object.entries(first[0]?.details ?? {}).filter(([name]) => SAFE_DETAILS.includes(name));
  const details = { ...Object.fromEntries(known), firstRow: ANOTHER };
  return findingSentence(code, details, field).replaceAll(`row ${ANOTHER}`, "another row");
}
