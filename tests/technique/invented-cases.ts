import type { Column } from "../../src/base/column.ts";
import { dayNumber } from "../../src/base/day-number.ts";
import type { Cases } from "../../src/cases/cases.ts";
import { descriptorSchema, type ExportField } from "../../src/cases/descriptor.ts";
import { type FieldRole, isFieldRole } from "../../src/cases/roles.ts";

/** A field as a descriptor writes it. */
export interface InventedField {
  readonly name: string;
  readonly type: "string" | "integer" | "number" | "date";
  readonly role?: string;
  readonly title?: string;
  readonly unit?: string;
  readonly categories?: readonly object[];
  /** Labels of missing values by the text that stands for them. Default: "" is "blank". */
  readonly missing?: Readonly<Record<string, string>>;
}

/** Cases made in memory, so that these tests do not depend on the reader. Cells are text, as in a file. */
export function inventedCases(
  fields: readonly InventedField[],
  rows: readonly (readonly string[])[],
  study: object = {},
): Cases {
  const descriptor = descriptorSchema.parse({
    name: "invented",
    title: "Invented cases",
    resources: [
      {
        name: "cases",
        path: "cases.csv",
        schema: { fields: fields.map(({ missing: _missing, ...field }) => field) },
      },
    ],
    study: {
      invented: true,
      stamp: "invented",
      unit: { one: "knee", many: "knees" },
      person: { one: "patient", many: "patients" },
      cementedKnees: true,
      revisionCapture: "national",
      deathCapture: "national",
      exactDates: true,
      ...study,
    },
  });
  const parsed = descriptor.resources[0]?.schema.fields ?? [];
  const columns = new Map<string, Column>();
  const fieldOfRole = new Map<FieldRole, string>();
  fields.forEach((field, at) => {
    const cells = rows.map((row) => row[at] ?? "");
    const declared = parsed[at];
    if (declared === undefined) throw new Error("a field was lost");
    columns.set(field.name, columnOf(declared, cells, field.missing ?? { "": "blank" }));
    if (field.role !== undefined && isFieldRole(field.role)) fieldOfRole.set(field.role, field.name);
  });
  return {
    rows: rows.length,
    columns,
    fieldOfRole,
    descriptor,
    source: {
      fileName: "cases.csv",
      fileHash: "",
      descriptorHash: "",
      lineOfRow: Uint32Array.from(rows, (_, row) => row + 2),
    },
    findings: { errors: 0, warnings: 0, notes: 0, groups: [] },
  };
}

function columnOf(
  field: ExportField,
  cells: readonly string[],
  missingLabels: Readonly<Record<string, string>>,
): Column {
  const missingReasons = [...new Set(Object.values(missingLabels))];
  const missing = Uint8Array.from(cells, (cell) => 1 + missingReasons.indexOf(missingLabels[cell] ?? ""));
  const base = { field: field.name, missing, missingReasons };
  const values = cells.map((cell, row) => (missing[row] === 0 ? cell : undefined));
  if (field.categories !== undefined) {
    const codes = field.categories.map(({ value }) => value);
    const labels = field.categories.map(({ value, label }) => label ?? value);
    return {
      ...base,
      kind: "code",
      codes,
      labels,
      values: Uint8Array.from(values, (value) => placeOf(codes, value)),
    };
  }
  if (field.type === "date") {
    const days = values.map((value) => (value === undefined ? 0 : known(dayNumber(value))));
    return { ...base, kind: "day", values: Int32Array.from(days) };
  }
  if (field.type !== "string") {
    return { ...base, kind: "number", values: Float64Array.from(values, (value) => Number(value ?? 0)) };
  }
  if (field.role === "patientId" || field.role === "caseId") {
    return { ...base, kind: "text", values: values.map((value) => value ?? "") };
  }
  const words = [...new Set(values.filter((value) => value !== undefined))];
  return {
    ...base,
    kind: "code",
    codes: words,
    labels: words,
    values: Uint8Array.from(values, (value) => placeOf(words, value)),
  };
}

function placeOf(codes: readonly string[], value: string | undefined): number {
  if (value === undefined) return 0;
  const place = codes.indexOf(value);
  if (place < 0) throw new Error("an invented cell is not in its dictionary");
  return place;
}

function known(day: number | undefined): number {
  if (day === undefined) throw new Error("an invented date is not in the calendar");
  return day;
}
