import { readFileSync } from "node:fs";

/** One reference record: numbers computed outside the project with general-purpose statistics libraries. */
export interface ReferenceRecord {
  readonly id: string;
  readonly source: string;
  readonly data: string | null;
  readonly input?: unknown;
  // biome-ignore lint/suspicious/noExplicitAny: each record has a shape of its own, checked by the test that reads it
  readonly expected: any;
  // biome-ignore lint/suspicious/noExplicitAny: as above
  readonly published?: any;
  /** Whether the figures in `published` were recalled rather than read in the book. */
  readonly valueFromMemory: boolean;
  readonly tolerance: string;
}

/** A record by its id from `values/<topic>.json`. A missing id fails the test. */
export function referenceRecord(topic: string, id: string): ReferenceRecord {
  const record = referenceRecords(topic).find((one) => one.id === id);
  if (record === undefined) throw new Error(`no record ${id} in ${topic}`);
  return record;
}

/** Every record of one topic. */
export function referenceRecords(topic: string): readonly ReferenceRecord[] {
  const text = readFileSync(new URL(`./values/${topic}.json`, import.meta.url), "utf8");
  const { records } = JSON.parse(text) as { records: ReferenceRecord[] };
  return records;
}

/** Rows of `data/<file>` as text by column name. The files hold no quoted commas. */
export function referenceRows(file: string): readonly Readonly<Record<string, string>>[] {
  const text = readFileSync(new URL(`./data/${file}`, import.meta.url), "utf8").trimEnd();
  const [header = "", ...lines] = text.split(/\r?\n/);
  const names = header.split(",").map(unquoted);
  return lines.map((line) => {
    const cells = line.split(",").map(unquoted);
    return Object.fromEntries(names.map((name, at) => [name, cells[at] ?? ""]));
  });
}

/** One column of `data/<file>` as numbers; a cell that is not a number fails the test. */
export function numberColumn(rows: readonly Readonly<Record<string, string>>[], name: string): number[] {
  return rows.map((row) => {
    const cell = row[name];
    const value = Number(cell);
    if (cell === undefined || cell === "" || Number.isNaN(value)) throw new Error(`${name}: not a number`);
    return value;
  });
}

/** One column as codes into the labels given, in that order. */
export function codeColumn(
  rows: readonly Readonly<Record<string, string>>[],
  name: string,
  values: readonly string[],
  labels: readonly string[] = values,
): { codes: number[]; labels: readonly string[] } {
  const codes = rows.map((row) => {
    const code = values.indexOf(row[name] ?? "");
    if (code < 0) throw new Error(`${name}: a value outside the list given`);
    return code;
  });
  return { codes, labels };
}

/** Times with decimals as whole ticks, `perUnit` to the unit; a time that is no whole number of ticks fails. */
export function wholeTicks(times: readonly number[], perUnit: number): number[] {
  return times.map((time) => {
    const ticks = Math.round(time * perUnit);
    if (Math.abs(ticks - time * perUnit) > 1e-9 * Math.max(1, ticks))
      throw new Error("not a whole number of ticks");
    return ticks;
  });
}

function unquoted(cell: string): string {
  return cell.replace(/^"(.*)"$/, "$1");
}
