import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";
import { onTestFinished } from "vitest";
import { type CountsSqlOptions, countsSql } from "../../../src/cases/counts-sql.ts";

export type Json = Record<string, unknown>;

export const DEMO_CSV = new URL("../../../data/demo/cases.csv", import.meta.url).pathname;
export const CENTRES = ["C1", "C2", "C3", "C4"] as const;
export const GROUPS = ["tourniquet", "no tourniquet"] as const;

/** Causes of the demo study in its order. */
export const CAUSES = [
  { label: "aseptic loosening", column: "loosenings", event: true },
  { label: "revision for another reason", column: "other_revisions" },
  { label: "death", column: "deaths", death: true },
];

/**
 * The demo study's follow-up as any engine could derive it, one row a knee: osteoarthritis, cemented, tourniquet
 * recorded and not later than the revision; the first of revision, death, emigration and data cut ends follow-up.
 */
export const FOLLOW_UP = `(
  SELECT centre, sex,
    CASE tourniquet WHEN 'yes' THEN 'tourniquet' ELSE 'no tourniquet' END AS technique,
    date_diff('day', operated, ended) AS days,
    CASE
      WHEN revised = ended AND reason = 'loosening' THEN 'aseptic loosening'
      WHEN revised = ended THEN 'revision for another reason'
      WHEN died = ended THEN 'death'
    END AS ended_by,
    CASE WHEN case_id LIKE '%7' AND date_diff('day', operated, ended) > 400 THEN 400 END AS entry_day
  FROM (
    SELECT *, least(revised, died, emigrated, DATE '2024-12-31') AS ended
    FROM (
      SELECT case_id, centre, sex, tourniquet, revision_reason AS reason,
        operation_date::DATE AS operated,
        nullif(revision_date, '')::DATE AS revised,
        nullif(death_date, '')::DATE AS died,
        nullif(emigration_date, '')::DATE AS emigrated
      FROM read_csv('${DEMO_CSV}', all_varchar = true, nullstr = '#')
      WHERE diagnosis = 'osteoarthritis' AND fixation = 'cemented' AND tourniquet IN ('yes', 'no')
        AND (revision_date = '' OR tourniquet_recorded_on <= revision_date)
    )
  )
)`;

export const COLUMNS = { exit: "days", cause: "ended_by", group: "technique" };

/** Rows that a query answers, as plain values. */
export async function query(sql: string): Promise<Record<string, unknown>[]> {
  const instance = await DuckDBInstance.create(":memory:");
  const connection = await instance.connect();
  try {
    return (await connection.runAndReadAll(sql)).getRowObjectsJson();
  } finally {
    connection.closeSync();
    instance.closeSync();
  }
}

/** The counts file of some knees of the demo export: its text and its descriptor. */
export async function countedSource(
  where: string,
  options: Partial<CountsSqlOptions> & { readonly descriptor?: Record<string, unknown> } = {},
): Promise<{ readonly csv: string; readonly descriptor: Record<string, unknown> }> {
  const { descriptor = {}, ...sql } = options;
  const rows = await query(
    countsSql({
      from: `(SELECT * FROM ${FOLLOW_UP} WHERE ${where})`,
      columns: COLUMNS,
      causes: CAUSES,
      ...sql,
    }),
  );
  const names = Object.keys(rows[0] ?? {});
  const lines = rows.map((row) => names.map((name) => String(row[name])).join(","));
  const leaving = (row: Record<string, unknown>) =>
    ["loosenings", "other_revisions", "deaths", "censored"].reduce((sum, name) => sum + Number(row[name]), 0);
  const cases = (group: string) =>
    rows.filter((row) => row.group === group).reduce((sum, row) => sum + leaving(row), 0);
  return {
    csv: `${[names.join(","), ...lines].join("\n")}\n`,
    descriptor: {
      kind: "counts by time",
      title: `Invented: ${where}`,
      source: "DuckDB, the query of countsSql()",
      file: "counts.csv",
      timeUnit: sql.monthsFromDays === true ? "month" : "day",
      causes: CAUSES,
      exposure: "Tourniquet used",
      groups: GROUPS.map((label) => ({ label, cases: cases(label) })),
      unit: { one: "knee", many: "knees" },
      mostPerPerson: 2,
      eventWords: { one: "revision", many: "revisions" },
      revisionMeans: "The first operation that adds, removes or exchanges any part of the implant",
      revisionCapture: "national",
      deathCapture: "national",
      dataCut: "2024-12-31",
      invented: true,
      stamp: "INVENTED DATA: no count is of a person",
      ...descriptor,
    },
  };
}

/** Writes a counts file and its descriptor to a folder of its own and answers the folder. */
export function writeCounts(csv: string, descriptor: Record<string, unknown>): string {
  const folder = mkdtempSync(join(tmpdir(), "mantle-counts-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  writeFileSync(join(folder, String(descriptor.file)), csv);
  writeFileSync(join(folder, "counts.json"), JSON.stringify(descriptor, null, 2));
  return folder;
}

/** The invented counts that the package ships. */
export const EXAMPLE = ["c1", "c2", "c3", "c4"].map(
  (centre) => new URL(`../../../data/counts/centre-${centre}`, import.meta.url).pathname,
);
export const descriptorOf = (path: string): Json =>
  JSON.parse(readFileSync(join(path, "counts.json"), "utf8"));

/** A copy of an example folder whose descriptor or counts are changed. */
export function changed(path: string, changes: Json, csv = (text: string) => text): string {
  const text = readFileSync(join(path, "counts.csv"), "utf8");
  return writeCounts(csv(text), { ...descriptorOf(path), ...changes });
}
