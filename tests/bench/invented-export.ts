import { closeSync, mkdirSync, openSync, writeFileSync, writeSync } from "node:fs";
import { join } from "node:path";
import type { ExportDescriptor } from "../../src/cases/descriptor.ts";
import { syntheticExport } from "../../src/synthetic/synthetic-export.ts";

/** The columns of the narrow export: what a first look at revisions needs. */
export const NARROW_COLUMNS = [
  "case_id",
  "patient_id",
  "side",
  "surgeon",
  "operation_date",
  "age_years",
  "sex",
  "diagnosis",
  "tourniquet",
  "revision_date",
  "revision_reason",
  "death_date",
];

/** The columns of the middle export: an ordinary unit's table. */
export const MIDDLE_COLUMNS = [
  ...NARROW_COLUMNS,
  "centre",
  "bmi",
  "asa_grade",
  "fixation",
  "cement_code",
  "lavage",
  "drilling",
  "mixing",
  "glove_change",
  "last_follow_up_date",
];

/** The folders of one invented export, written whole and with part of its columns. */
export interface ExportFolders {
  readonly wide: string;
  readonly middle: string;
  readonly narrow: string;
}

/** Writes an invented export three times: whole, and with the columns of the narrow and the middle one. */
export function writeInventedExports(knees: number, { wide, middle, narrow }: ExportFolders): void {
  const made = syntheticExport({
    knees,
    surgeons: Math.max(24, Math.ceil(knees / 2500)),
    centres: 20,
  });
  const names = made.descriptor.resources[0]?.schema.fields.map(({ name }) => name) ?? [];
  const exports = [
    { folder: wide, columns: names },
    { folder: middle, columns: MIDDLE_COLUMNS },
    { folder: narrow, columns: NARROW_COLUMNS },
  ].map(({ folder, columns }) => {
    mkdirSync(folder, { recursive: true });
    writeDescriptor(folder, partOf(made.descriptor, columns));
    const places = columns.map((name) => names.indexOf(name));
    return { file: openSync(join(folder, "cases.csv"), "w"), places };
  });
  for (const chunk of made.csvChunks()) {
    const lines = chunk.split("\n");
    for (const { file, places } of exports)
      writeSync(file, lines.map((line) => partOfLine(line, places)).join("\n"));
  }
  for (const { file } of exports) closeSync(file);
}

function partOfLine(line: string, places: readonly number[]): string {
  // The invented export quotes no cell, so its delimiters can be counted.
  if (line === "") return line;
  const cells = line.split(",");
  return places.map((place) => cells[place]).join(",");
}

function partOf(descriptor: ExportDescriptor, columns: readonly string[]): ExportDescriptor {
  const resources = descriptor.resources.map((resource) => ({
    ...resource,
    schema: {
      ...resource.schema,
      fields: resource.schema.fields.filter(({ name }) => columns.includes(name)),
    },
  }));
  return { ...descriptor, resources };
}

function writeDescriptor(folder: string, descriptor: ExportDescriptor): void {
  writeFileSync(join(folder, "datapackage.json"), JSON.stringify(descriptor));
}
