import { count } from "../base/display.ts";
import type { Finding, FindingGroup } from "../base/finding.ts";
import { PRIVACY_SENTENCES } from "./privacy-messages.ts";
import { RULE_SENTENCES } from "./rule-messages.ts";
import { CORRECT_OR_LEAVE_OUT, type Sentence, type Sentences } from "./sentences.ts";
import { TABLE_SENTENCES } from "./tables/messages.ts";

export type { Sentences };

const QUERY = CORRECT_OR_LEAVE_OUT;

/** What each finding means and what to do about it. The one home of these sentences; none may hold a cell's text. */
const SENTENCES: Sentences = {
  // The file as bytes.
  "file-empty": () => "the file holds no header; export the table again",
  "no-records": () => "the file holds a header and no records; export the table again",
  "encoding-not-utf8": () =>
    'is not UTF-8; save the file as UTF-8, or state "encoding": "windows-1252" in the descriptor if that is what it is',
  "encoding-contradicted": ({ mark, encoding }) =>
    `the file begins with the mark of ${mark}, but the descriptor says ${encoding}; correct "encoding"`,
  "encoding-undefined-byte": () =>
    "holds a byte that Windows-1252 does not define; state the encoding the file was really written in",
  "nul-byte": () =>
    'holds a NUL byte; the file is damaged or is not text in the stated encoding: export it again, or correct "encoding"',
  "blank-first-line": () => "is blank where the column names must stand; remove it",
  "blank-line": () => "is blank and was passed over; remove it if no record was lost there",
  "header-too-long": () =>
    "the line of column names does not end within 1 MiB; look for a quote that is never closed, or another kind of file",
  "header-blank": ({ column }) => `column ${column} has no name; give it one, or take the column out`,
  "header-repeated": ({ column, first }) =>
    `column ${column} has the same name as column ${first}; rename one of them`,
  "wrong-delimiter": ({ found }) =>
    `the header is a single column, yet holds a ${found}; state the delimiter under "dialect" in the descriptor`,
  "ragged-record": ({ expected, found }) =>
    `has ${fieldCount(found)} where the header has ${expected}; look for a delimiter or line break that is not quoted`,
  "record-cut-off": ({ expected, found }) =>
    `has ${fieldCount(found)} where the header has ${expected}: the file ends in the middle of this row; export it again`,
  "quote-not-closed": () =>
    "opens a quote that is never closed, so the rest of the file would become one value; close it",
  "quote-inside-value": () =>
    "has a quote inside a value that does not begin with one; quote the whole value and double the quote inside",
  "text-after-quote": () =>
    "has text between a closing quote and the next delimiter; double a quote that belongs to the value",
  "records-lost": ({ records, rows }) =>
    `the file holds ${count(Number(records))} records but ${count(Number(rows))} were read; nothing is analysed on a part: export it again`,
  // Columns against the dictionary.
  "column-missing": ({ now, column }) =>
    now === undefined
      ? "the dictionary describes this column, but the file has none of that name; export it, or take the field out of the dictionary"
      : `the dictionary describes this column, but the file has none of that name; column ${column}, "${now}", may be it: ` +
        "rename it in the file, or change the name of the field in the dictionary",
  "column-not-described": ({ column }) =>
    `column ${column} of the file is not in the dictionary and was not read; describe it or leave it out of the export`,
  // Cells against the dictionary.
  "value-not-a-date": () =>
    "is no calendar date in the stated format; correct it, or state the format in the dictionary",
  "date-is-serial-number": () =>
    "is a spreadsheet's serial number, whose starting year cannot be known; format the column as a date and export again",
  "value-not-a-number": () =>
    'is no plain number (such as 27.8); correct it, or state "decimalChar" if the file uses a decimal comma',
  "word-not-in-dictionary": () =>
    "holds a word that the dictionary does not list; add it to the categories or missing values, or correct the export",
  "word-respelt": () =>
    "was recognised without regard to capitals or spaces around the word; nothing to do where that is meant",
  "spaces-around-value": () => "was read without the spaces around it; nothing to do",
  "codes-look-alike": ({ codes, apart }) =>
    `has ${codes} codes, but only ${apart} if capitals and spaces do not count; list the true codes as categories`,
  "value-required": () =>
    "is missing, but the field is required; complete it or leave the row out of the export",
  "value-repeated": ({ firstRow }) =>
    `repeats the value of row ${firstRow}, but values of this field must be unique; correct one of them, or take "unique" out of the dictionary`,
  "value-below-minimum": ({ limit }) => `lies below the minimum of ${limit}; ${QUERY}`,
  "value-above-maximum": ({ limit }) => `lies above the maximum of ${limit}; ${QUERY}`,
  // Fields against one another.
  "operation-date-missing": () => `is missing, and follow-up starts on it; ${QUERY}`,
  "patient-missing": () =>
    "is missing, so the knee counts as a patient of its own; complete it where it is known",
  "revision-before-operation": () => `falls before the operation; ${QUERY}`,
  "death-before-operation": () => `falls before the operation; ${QUERY}`,
  "emigration-before-operation": () => `falls before the operation; ${QUERY}`,
  "last-contact-before-operation": () => `falls before the operation; ${QUERY}`,
  "death-before-revision": () => `falls before the revision; ${QUERY}`,
  "last-contact-before-revision": () =>
    "falls before the revision; follow-up ends at the revision, but check which is right",
  "death-before-radiograph": () =>
    "falls before the last radiograph, which a dead person cannot have; check both dates",
  "death-before-last-contact": () =>
    "falls before the last contact; follow-up ends at the death, but check which is right",
  "entry-after-revision": () =>
    "falls before the knee came under observation; the knee is never at risk: check both dates",
  "entry-after-death": () =>
    "falls before the knee came under observation; the knee is never at risk: check both dates",
  "entry-after-last-contact": () => "falls before the knee came under observation; check which is right",
  "date-after-data-cut": () => "falls after the data cut of the descriptor; correct the date or the data cut",
  "age-impossible": outsideRange("years"),
  "age-unusual": unusual("years"),
  "bmi-impossible": outsideRange("kg/m²"),
  "bmi-unusual": unusual("kg/m²"),
  "asa-grade-impossible": outsideRange(""),
  "reason-without-revision-date": () =>
    `gives a reason, but there is no revision date: it cannot be counted and must not be passed over; ${QUERY}`,
  "revision-without-reason": () =>
    "is missing beside a revision date; the row counts as a revision, reason unknown: complete it where it is known",
  "component-without-revision-date": () =>
    "names a loosened component, but there is no revision date; check the row",
  "step-recorded-after-revision": () =>
    "falls after the revision; the step counts as not recorded unless the date is corrected",
  "follow-up-missing": () => `is missing; ${QUERY}`,
  "follow-up-negative": () => `is below zero; ${QUERY}`,
  "status-missing": () => `is missing, so it is not known how follow-up ended; ${QUERY}`,
  "case-repeated": ({ firstRow }) =>
    `repeats the case of row ${firstRow}, equal in every field; leave one of them out`,
  "case-conflicting": ({ firstRow }) =>
    `repeats the case of row ${firstRow} with other content; neither can be trusted: ask the supplier which is right`,
  "knee-repeated": ({ firstRow }) =>
    `has a second first operation on the side of row ${firstRow}; leave revisions out of the export, or correct the side`,
  ...RULE_SENTENCES,
  ...PRIVACY_SENTENCES,
};

const ALL_SENTENCES: Sentences = { ...SENTENCES, ...TABLE_SENTENCES };

/** Codes that have a sentence here. */
export const FINDING_CODES: readonly string[] = Object.keys(SENTENCES);

/**
 * One line for people: where, what is wrong, what to do.
 *
 * A single finding names its row and line; many of one kind become one line with their count and the first three.
 */
export function describeFinding(group: FindingGroup): string {
  return describeWith(ALL_SENTENCES, group);
}

/** What a finding means and what to do, without its place and count. */
export function findingSentence(code: string, details: Finding["details"] = {}, field = ""): string {
  return ALL_SENTENCES[code]?.(details, field) ?? code;
}

/** As `describeFinding`, with sentences of another kind of file. */
export function describeWith(sentences: Sentences, group: FindingGroup): string {
  const [first] = group.first;
  const details = first?.details ?? {};
  const sentence = sentences[group.code]?.(details, group.field ?? "") ?? group.code;
  const field = group.field === undefined ? [] : [group.field];
  if (group.count === 1) {
    const where = [...(first === undefined ? [] : placeOf(first)), ...field].join(", ");
    return where === "" ? sentence : `${where}: ${sentence}`;
  }
  const places = group.first.flatMap(placeOf);
  const examples =
    places.length === 0 ? "" : ` (${places.join(", ")}${group.count > group.first.length ? ", …" : ""})`;
  return `${[...field, `${count(group.count)} times`].join(", ")}${examples}: ${sentence}`;
}

function placeOf({ row, line, file }: Finding): string[] {
  // A file without lines gives line 0.
  const place = [...(file === undefined ? [] : [file]), ...(line ? [`line ${line}`] : [])].join(" ");
  if (row !== undefined) return [place === "" ? `row ${row}` : `row ${row} (${place})`];
  return place === "" ? [] : [place];
}

function fieldCount(found: string | number | undefined): string {
  return found === 1 ? "1 field" : `${found} fields`;
}

function outsideRange(unit: string): Sentence {
  return ({ low, high }) => `lies outside ${low} to ${high}${unit && ` ${unit}`}, which cannot be; ${QUERY}`;
}

function unusual(unit: string): Sentence {
  return ({ low, high }) =>
    `lies outside ${low} to ${high}${unit && ` ${unit}`}; possible, but look at it and correct it if it is a slip`;
}
