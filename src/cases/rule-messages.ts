import { CORRECT_OR_LEAVE_OUT, type Sentences } from "./sentences.ts";

/** What the rules across fields and rows found, and what to do about it. */
export const RULE_SENTENCES: Sentences = {
  "revision-after-emigration": () =>
    "falls after the patient left the country, where follow-up ends; it is not counted unless the dates are corrected",
  "operation-date-impossible": ({ earliest }) =>
    `lies before ${earliest}, which cannot be; it may be a default of the program: ${CORRECT_OR_LEAVE_OUT}`,
  "interval-impossible": ({ years }) =>
    `lies more than ${years} years after the operation, which cannot be; ${CORRECT_OR_LEAVE_OUT}`,
  "age-at-end-impossible": ({ years }) =>
    `would make the patient older than ${years} years; correct this date, the operation date or the age`,
  "follow-up-impossible": ({ years }) =>
    `is longer than ${years} years; check the unit in the dictionary, or ${CORRECT_OR_LEAVE_OUT}`,
  "revision-without-operation": () =>
    `is a revision of a knee without an operation date, so it was never operated as far as this export says; ${CORRECT_OR_LEAVE_OUT}`,
  "side-of-revision-conflicts": () =>
    `is not the side of the operation; the revision may belong to the other knee; ${CORRECT_OR_LEAVE_OUT}`,
  "component-without-loosening": () =>
    "names a loosened component, but the reason is not loosening; check which is right",
  "revision-of-unknown-knee": () =>
    "is a revision of a knee that is not among the cases, so it was never operated as far as they say; add the case or take the row out",
  "link-unmatched": () => "has a key that no case has; the row is not used: correct the key, or add the case",
  "link-key-missing": () => "has no key, so it belongs to no case; the row is not used: fill in the key",
  "link-ambiguous": () => "fits several cases and nothing says which; add the side, or the key of the case",
  "link-side-conflicts": () => "names another side than every case with its key; correct the side or the key",
  "link-rows-conflict": () =>
    "contradicts another row for the same case; neither can be trusted: ask the supplier which is right",
  "link-contradicts-case": () => "differs from what the second table says of the case; settle which is right",
  "link-kinds-differ": ({ cases, table }) =>
    `is ${cases} in the cases and ${table} in the second table, so neither fills in the other; describe both alike`,
  "link-kind-not-taken": ({ table }) =>
    `is ${table} in the second table, where dates or words are taken; give the field its categories`,
  "link-counts": ({ holds, rows, matched, unmatched, ambiguous, conflicting, withoutKey }) =>
    `table of ${holds}: ${rows} rows, ${matched} matched, ${unmatched} unmatched, ${ambiguous} ambiguous, ${conflicting} conflicting, ${withoutKey} without a key; look at those that are not matched before outcomes are counted`,
  "several-reasons-ticked": () =>
    "has several reasons; all are kept, and one counts as the main reason: nothing to do where all are true",
  "main-reason-by-order": () =>
    "counts under another reason than the one written first, by the stated order of reasons; nothing to do where that order is meant",
  "step-recorded-before-operation": () => "was written down before the operation; check the date",
  "step-done-where-it-cannot-apply": () =>
    "is recorded as done where it cannot apply by another field of the row; check which is right",
  "step-not-applicable-where-it-applies": () =>
    "is recorded as not applicable where another field of the row says that it applies; the knee leaves the comparison: check which is right",
  "knee-revised-as-first": ({ firstRow }) =>
    `is a first operation on the side of row ${firstRow} on or after that knee's revision, so it is probably the revision; leave revisions out of the export`,
  "sex-conflicts": ({ firstRow }) =>
    `differs from that of row ${firstRow}, which is of the same patient; check which is right`,
  "death-dates-conflict": ({ firstRow }) =>
    `differs from that of row ${firstRow}, which is of the same patient; ${CORRECT_OR_LEAVE_OUT}`,
  "ages-conflict": ({ firstRow }) =>
    `does not fit the age in row ${firstRow} of the same patient and the time between the operations; check both`,
  "operation-after-death": ({ firstRow }) =>
    `and that of row ${firstRow} are of one patient, who was dead before one of them; ${CORRECT_OR_LEAVE_OUT}`,
  "revision-on-both-sides": ({ firstRow }) =>
    `is also that of row ${firstRow}, the other knee of the patient; check that revisions were joined by knee and not by patient`,
  "side-unknown-of-two-knees": ({ firstRow }) =>
    `is missing here or in row ${firstRow} of the same patient, so a revision cannot be given to the right knee; fill in the side`,
  "codes-change-over-time": ({ year }) =>
    `uses a code for the first time in ${year} and another one never again: the coding changed, so the two codes compare periods; list them under one meaning if they are one`,
  "dates-heaped": ({ day, percent, dates }) =>
    `stands on day ${day} of the month in ${percent} % of ${dates} dates, where about 3 % are expected; exact days may not have been known: ask how they were written down`,
  "numbers-rounded": ({ percent, values }) =>
    `ends in 0 or 5 in ${percent} % of ${values} values, where about 20 % are expected; the values were rounded: ask for them as they were measured`,
  "surgeon-never-fills": ({ never, rows, firstRow }) =>
    `is never filled by ${never} of the surgeons (${rows} rows, first row ${firstRow}), though the others fill it; complete it or leave these rows out knowingly`,
  "centre-never-fills": ({ never, rows, firstRow }) =>
    `is never filled by ${never} of the centres (${rows} rows, first row ${firstRow}), though the others fill it; complete it or leave these rows out knowingly`,
};
