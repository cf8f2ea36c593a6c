import type { Column } from "../../../src/base/column.ts";
import { dateOfDay } from "../../../src/base/day-number.ts";
import { UsageError } from "../../../src/base/errors.ts";
import type { Cases } from "../../../src/cases/cases.ts";
import { checkCases } from "../../../src/cases/check-cases.ts";
import { describeFinding } from "../../../src/cases/messages.ts";
import { readCases } from "../../../src/cases/read-cases.ts";
import type { Json } from "../study-block.ts";
import { type BaseFile, SECRET } from "./base-files.ts";
import { naiveCsv } from "./naive-csv.ts";

/** What became of a changed file: it was read, it was refused with a reason, or something is wrong with the reader. */
export type Verdict =
  | { readonly kind: "read" | "refused" }
  | { readonly kind: "fault"; readonly what: string };

export async function verdictOn(path: string, bytes: Buffer, base: BaseFile, whole: Cases): Promise<Verdict> {
  let cases: Cases;
  try {
    cases = await readCases(path);
  } catch (error) {
    if (!(error instanceof UsageError))
      return fault(`an error without a type: ${String(error).slice(0, 200)}`);
    return error.message.includes(SECRET) ? fault("a message holds the text of a cell") : { kind: "refused" };
  }
  const messages = [...cases.findings.groups, ...checkCases(cases).groups];
  if (JSON.stringify([messages, messages.map(describeFinding)]).includes(SECRET)) {
    return fault("a finding holds the text of a cell");
  }
  const wrong = [...cases.columns.values()].find(({ values, missing }) =>
    [values.length, missing.length].some((length) => length !== cases.rows),
  );
  if (wrong !== undefined || cases.source.lineOfRow.length !== cases.rows) return fault("rows were lost");
  const what = base.isSealed ? differsFromWhole(cases, whole) : differsFromText(cases, bytes, base);
  return what === undefined ? { kind: "read" } : fault(what);
}

function fault(what: string): Verdict {
  return { kind: "fault", what };
}

/** A format with check sums gives what was written or nothing. */
function differsFromWhole(cases: Cases, whole: Cases): string | undefined {
  const texts = (each: Cases) => JSON.stringify([...each.columns.values()].map((column) => column.values));
  return texts(cases) === texts(whole) ? undefined : "a sealed file gave other values";
}

/** Every cell is what a naive reader finds in it, or missing with a reason or a finding. */
function differsFromText(
  cases: Cases,
  bytes: Buffer,
  { text, resource, fields }: BaseFile,
): string | undefined {
  if (text === undefined) return undefined;
  const { delimiter = "," } = (resource.dialect ?? {}) as { delimiter?: string };
  const [header = [], ...records] = naiveCsv(text(bytes), delimiter, '"');
  if (records.length !== cases.rows) return `${records.length} records, but ${cases.rows} rows`;
  const reported = new Set(cases.findings.groups.map(({ field }) => field));
  for (const field of fields) {
    const column = cases.columns.get(String(field.name));
    const place = header.indexOf(String(field.name));
    if (column === undefined || place < 0) return "a column is missing";
    const at = records.findIndex((record, row) => !agrees(column, row, record[place] ?? "", field, reported));
    if (at >= 0) return `row ${at + 1}, ${String(field.name)}: another value than in the file`;
  }
  return undefined;
}

function agrees(
  column: Column,
  row: number,
  cell: string,
  field: Json,
  reported: ReadonlySet<string | undefined>,
): boolean {
  if (column.missing[row] !== 0) return cell.trim() === "" || reported.has(column.field);
  const value = column.values[row];
  if (column.kind === "text") return value === cell;
  if (column.kind === "code") return column.codes[Number(value)] === cell;
  if (column.kind === "number") {
    const text = cell.trim().replace(String(field.decimalChar ?? "."), ".");
    return /^-?\d+(\.\d+)?$/.test(text) && Object.is(value, Number(text) || 0);
  }
  const iso = dateOfDay(Number(value));
  return cell.trim() === (field.format === undefined ? iso : iso.split("-").reverse().join("."));
}
