import type { ExportDescriptor, ExportField } from "../../../cases/descriptor.ts";
import { caseFields, missingValuesOf } from "../../../cases/descriptor-rules.ts";
import type { TableExhibit } from "../../../disclosure/exhibit.ts";
import { textCell } from "../../sections/cells.ts";

/** The dictionary as people read it: what each field stands for and which words it may hold. */
export function dictionaryExhibit(descriptor: ExportDescriptor): TableExhibit {
  return {
    kind: "table",
    id: "dictionary",
    title: "The dictionary",
    columns: [
      { id: "field", label: "Field" },
      { id: "title", label: "Title" },
      { id: "role", label: "Stands for" },
      { id: "type", label: "Type" },
      { id: "words", label: "Words and limits" },
      { id: "missing", label: "Words for missing" },
    ],
    rows: caseFields(descriptor).map((field) => ({
      label: field.name,
      cells: [
        field.title ?? "",
        field.role ?? "",
        typeWords(field),
        valueWords(field),
        missingWords(field, descriptor),
      ].map(textCell),
    })),
  };
}

function typeWords({ type, unit, format }: ExportField): string {
  return [type, unit, format].filter((part) => part !== undefined).join(", ");
}

function valueWords({ categories, constraints }: ExportField): string {
  const words = (categories ?? []).map(({ value, label }) =>
    label === undefined || label === value ? value : `${value}: ${label}`,
  );
  const { required, unique, minimum, maximum } = constraints ?? {};
  return [
    ...words,
    ...(required ? ["required"] : []),
    ...(unique ? ["each value once"] : []),
    ...(minimum === undefined ? [] : [`from ${minimum}`]),
    ...(maximum === undefined ? [] : [`to ${maximum}`]),
  ].join("; ");
}

function missingWords(field: ExportField, descriptor: ExportDescriptor): string {
  return missingValuesOf(field, descriptor)
    .map(({ value, label }) => (value === "" ? label : `${value}: ${label}`))
    .join("; ");
}
