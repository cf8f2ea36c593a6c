import type { FindingGroup } from "../base/finding.ts";
import { describeFinding, describeWith, type Sentences } from "./messages.ts";

const AGAIN = "count again from the rows";

/** What is wrong with a counts file and what to do about it; none may hold a cell's text. */
const SENTENCES: Sentences = {
  "counts-column-missing": () =>
    "the file has no column of that name, which every counts file needs; add it or correct its name",
  "counts-stratum-column-missing": () =>
    'the descriptor lists strata, but the file has no column "stratum"; add it or take the strata out',
  "counts-strata-not-listed": () =>
    'the file has a column "stratum", but the descriptor lists no strata; list them under "strata"',
  "count-not-whole": () => "is no whole number from 0 up; write plain digits and no blank cell",
  "counts-group-unknown": () =>
    'names a group that the descriptor does not list; correct it, or add it to "groups"',
  "counts-stratum-unknown": () =>
    'names a stratum that the descriptor does not list; correct it, or add it to "strata"',
  "counts-time-impossible": ({ years, unit }) =>
    `lies more than ${years} years after the start; check whether the times are really ${unit}s`,
  "counts-time-not-ascending": () =>
    "does not come after the time of the row before it in the same group and stratum; write each time once, rising",
  "counts-more-leave": () => `more have an event or are censored than are at risk; ${AGAIN}`,
  "counts-at-risk-broken": () =>
    "does not follow from the row before: at risk less events less censored plus entered " +
    `(one cause may be left out); ${AGAIN}`,
  "counts-do-not-empty": () =>
    "is the last row of its group and stratum, yet somebody is left after it; everybody must leave once, " +
    `by an event or censored; ${AGAIN}`,
  "counts-cases-differ": ({ group }) =>
    `the rows of group "${group}" add up to another number of cases than the descriptor states; ${AGAIN}, or correct the number`,
};

/** Codes that have a sentence here; a counts file can show those of any CSV file as well. */
export const COUNTS_FINDING_CODES: readonly string[] = Object.keys(SENTENCES);

/** One line for people about a counts file: where, what is wrong, what to do. */
export function describeCountsFinding(group: FindingGroup): string {
  return Object.hasOwn(SENTENCES, group.code) ? describeWith(SENTENCES, group) : describeFinding(group);
}
