import iconv from "iconv-lite";
import { type Json, STUDY } from "../study-block.ts";
import {
  csvText,
  gzip,
  parquet,
  type Table,
  type TextForm,
  utf16,
  windows1252,
  workbook,
} from "../tables/table-files.ts";

/** Text that stands in cells alone and must turn up in no message. */
export const SECRET = "Zq7Xw";

export const FIELDS: readonly Json[] = [
  { name: "case", type: "string", role: "caseId" },
  { name: "operated", type: "date", role: "operationDate" },
  { name: "revised", type: "date", role: "revisionDate" },
  { name: "bmi", type: "number", role: "bmi" },
  { name: "ward", type: "string" },
];
const TYPES = ["VARCHAR", "DATE", "DATE", "DOUBLE", "VARCHAR"];

const TABLE: Table = {
  header: FIELDS.map(({ name }) => String(name)),
  rows: [
    [`${SECRET}1`, { day: "2015-01-05" }, { day: "2016-01-05" }, 27.8, `${SECRET} øst`],
    [`${SECRET}2`, { day: "2015-02-15" }, null, 31.5, `"${SECRET}", quoted`],
    [`${SECRET}3`, { day: "2015-03-25" }, null, 24, `${SECRET}\ntwo lines`],
    [`${SECRET}4`, { day: "2015-04-30" }, { day: "2018-12-31" }, null, ""],
  ],
};

/** A file that is read without a fault, and how. */
export interface BaseFile {
  readonly label: string;
  readonly bytes: Buffer;
  readonly resource: Json;
  readonly fields: readonly Json[];
  /** Decodes the file's bytes as text, where it is one. */
  readonly text?: (bytes: Buffer) => string;
  /** Whether the format itself can tell that a byte was changed. */
  readonly isSealed: boolean;
}

const dayFirst = (iso: string) => iso.split("-").reverse().join(".");
const CONTINENTAL = FIELDS.map((field) => {
  if (field.type === "date") return { ...field, format: "%d.%m.%Y" };
  return field.name === "bmi" ? { ...field, decimalChar: "," } : field;
});

export async function baseFiles(): Promise<readonly BaseFile[]> {
  const textFile = (
    label: string,
    form: Partial<TextForm>,
    resource: Json = {},
    fields: readonly Json[] = FIELDS,
    write: (text: string) => Buffer = (text) => Buffer.from(text),
    text: (bytes: Buffer) => string = utf8,
  ): BaseFile => ({ label, bytes: write(csvText(TABLE, form)), resource, fields, text, isSealed: false });
  return [
    textFile("comma", {}),
    textFile(
      "semicolon, decimal comma",
      { delimiter: ";", decimalChar: ",", date: dayFirst, lineEnd: "\r\n" },
      { dialect: { delimiter: ";" } },
      CONTINENTAL,
    ),
    textFile("tab, carriage returns", { delimiter: "\t", lineEnd: "\r" }, { dialect: { delimiter: "\t" } }),
    textFile("bar", { delimiter: "|" }, { dialect: { delimiter: "|" } }),
    textFile("with a mark", {}, {}, FIELDS, (text) => Buffer.from(`\ufeff${text}`)),
    textFile("windows-1252", {}, { encoding: "windows-1252" }, FIELDS, windows1252, (bytes) =>
      iconv.decode(bytes, "windows-1252"),
    ),
    textFile(
      "utf-16",
      {},
      { encoding: "utf-16le" },
      FIELDS,
      (text) => utf16(text, "little"),
      wide("utf-16le"),
    ),
    textFile(
      "utf-16, big-endian",
      {},
      { encoding: "utf-16be" },
      FIELDS,
      (text) => utf16(text, "big"),
      wide("utf-16be"),
    ),
    { label: "gzip", bytes: gzip(csvText(TABLE)), resource: {}, fields: FIELDS, isSealed: true },
    { label: "workbook", bytes: workbook(TABLE), resource: {}, fields: FIELDS, isSealed: true },
    { label: "Parquet", bytes: await parquet(TABLE, TYPES), resource: {}, fields: FIELDS, isSealed: false },
    {
      label: "Parquet, zstd",
      bytes: await parquet(TABLE, TYPES, ", COMPRESSION zstd"),
      resource: {},
      fields: FIELDS,
      isSealed: false,
    },
  ];
}

function utf8(bytes: Buffer): string {
  return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
}

function wide(encoding: "utf-16le" | "utf-16be") {
  return (bytes: Buffer) => new TextDecoder(encoding, { fatal: true }).decode(bytes);
}

/** A descriptor around a base file. */
export function describe({ resource, fields }: BaseFile): Json {
  return {
    name: "fuzz",
    title: "Fuzz",
    resources: [{ name: "cases", path: "cases.csv", schema: { fields }, ...resource }],
    study: { ...STUDY, dataCut: "2030-01-01" },
  };
}
