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

/** Writes an invented export twice: whole to `wide`, and its twelve columns to `narrow`. */
export function writeInventedExports(knees: number, wide: string, narrow: string): void {
  const made = syntheticExport({
    knees,
    surgeons: Math.max(24, Math.ceil(knees / 2500)),
    centres: 20,
  });
  const names = made.descriptor.resources[0]?.schema.fields.map(({ name }) => name) ?? [];
  const places = NARROW_COLUMNS.map((name) => names.indexOf(name));
  const files = [wide, narrow].map((folder) => {
    mkdirSync(folder, { recursive: true });
    return openSync(join(folder, "cases.csv"), "w");
  });
  for (const chunk of made.csvChunks()) {
    const lines = chunk.split("\n").map((line) => narrowLine(line, places));
    [chunk, lines.join("\n")].forEach((text, at) => {
      writeSync(files[at] ?? -1, text);
    });
  }
  files.forEach(closeSync);
  writeDescriptor(wide, made.descriptor);
  writeDescriptor(narrow, narrowDescriptor(made.descriptor));
}

function narrowLine(line: string, places: readonly number[]): string {
  // The invented export quotes no cell, so its delimiters can be counted.
  if (line === "") return line;
  const cells = line.split(",");
  return places.map((place) => cells[place]).join(",");
}

function narrowDescriptor(descriptor: ExportDescriptor): ExportDescriptor {
  const resources = descriptor.resources.map((resource) => ({
    ...resource,
    schema: {
      ...resource.schema,
      fields: resource.schema.fields.filter(({ name }) => NARROW_COLUMNS.includes(name)),
    },
  }));
  return { ...descriptor, resources };
}

function writeDescriptor(folder: string, descriptor: ExportDescriptor): void {
  writeFileSync(join(folder, "datapackage.json"), JSON.stringify(descriptor));
}
