import { count } from "../../base/display.ts";
import type { Sentences } from "../sentences.ts";

/** What findings about kinds of files and their cells mean, and what to do. None may hold a cell's text. */
export const TABLE_SENTENCES: Sentences = {
  "encoding-not-utf16": () =>
    'is not UTF-16, though the file begins so or is said to be; save it as "CSV UTF-8"',
  "utf16-too-large": ({ gibibytes }) =>
    `the file is UTF-16 and larger than ${gibibytes} GiB, which is not decoded; save it as "CSV UTF-8"`,
  "gzip-damaged": () => "the file is packed with gzip and damaged or cut short; fetch or pack it again",
  "gzip-too-large": ({ gibibytes }) =>
    `the file is packed and holds more than ${gibibytes} GiB; unpack it and name the plain file in the descriptor`,
  "workbook-not-xlsx": () =>
    "the file is an older workbook or has a password; open it and save it as .xlsx without a password, or as CSV",
  "format-contradicted": ({ stated, found }) =>
    `the descriptor says ${stated}, but the file is ${found}; correct "format" or leave it out`,
  "workbook-damaged": () =>
    "the file is no sound .xlsx workbook; open it in a spreadsheet and save it again, or as CSV",
  "workbook-too-large": ({ megabytes, unpacked }) =>
    `the workbook is larger than ${megabytes} MB (or ${unpacked} MB unpacked); save it as CSV, which is read in pieces`,
  "sheet-missing": ({ sheets }) =>
    `the workbook has ${sheets} sheet(s), but not the one that the descriptor names; correct "sheetName" or "sheetNumber" under "dialect"`,
  "header-merged": ({ column }) =>
    `the name of column ${column} is a merged cell; give every column a name of its own`,
  "rows-hidden": ({ hidden }) =>
    `${count(Number(hidden))} rows are hidden in the sheet and were read like all others; take them out if they do not belong`,
  "cell-outside-table": () =>
    "has a filled cell to the right of the last named column; name the column or clear the cell",
  "parquet-damaged": () =>
    "the file begins as Parquet, but is damaged or uses a form that is not read; write it again",
  "column-nested": () => "holds lists or records in its cells; write one plain value in each cell",
  "column-type-not-read": () => "has a type that is not read; write it as text, number, DATE or boolean",
  "timestamp-with-zone": () =>
    "is an instant, which is another day in another time zone; write the column as DATE",
  "timestamp-not-date": () => "holds times of day as well as dates; write the column as DATE",
  "file-lacks-column": () =>
    "this file lacks the column, which the first file has; all files need the same columns: add it, or name the file in a dictionary of its own",
  "file-has-other-column": ({ column }) =>
    `column ${column} of this file is not in the first file; all files need the same columns: take it out, or add it to all`,
  "file-has-other-encoding": () => "this file is in another encoding than the first; save both the same way",
  "cell-merged": () =>
    "is a merged cell, and what it says of the cells under it is unknown; unmerge it and fill every cell",
  "cell-is-error": () =>
    "is an error value of the spreadsheet (such as #N/A); correct its formula, or clear the cell",
  "formula-without-value": () =>
    "is a formula whose result was not saved; open the workbook in a spreadsheet, let it calculate, and save it",
  "cell-is-date": () =>
    "is a date in the spreadsheet, but the field holds none; the spreadsheet may have changed what was typed: format the column as text, correct it and export it again",
  "date-has-time": () => "is a date with a time of day; export whole days",
  "number-lost-digits": () =>
    "is a number of more than 15 digits, whose last digits the spreadsheet does not keep; export the column as text",
  "column-in-other-unit": ({ rows, present, unit, other }) =>
    `${count(Number(rows))} of ${count(Number(present))} values are no ${unit}, but would be ${other}; nothing was converted: correct the export`,
  "value-in-other-unit": ({ unit, other }) =>
    `is no value in ${unit}, but would be ${other}; correct the export`,
  "dates-and-serial-numbers": ({ serials, dates }) =>
    `holds ${count(Number(serials))} serial numbers and ${count(Number(dates))} written dates; both were read, but look at how the column came about, and export it in one form`,
};

/** Codes that have a sentence here. */
export const TABLE_FINDING_CODES: readonly string[] = Object.keys(TABLE_SENTENCES);
