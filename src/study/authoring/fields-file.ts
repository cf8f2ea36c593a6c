import type { ExportDescriptor } from "../../cases/descriptor.ts";
import { commented, quoted, union } from "./source-text.ts";
import { type PlannedField, type WordsOfExport, wordsOfExport } from "./words-of-export.ts";

/** First line of every file of this kind: what starts so may be written again. */
export const FIELDS_FILE_START = "// Written by “mantle new” from a dictionary";
/** That line, with the export it was written from. */
export function fieldsFileStart(place: string): string {
  return `${FIELDS_FILE_START}: ${commented(place)}`;
}

/** As the formatter of the project has it. */
const WIDTH = 110;

/** Name of an export's types: "invented-cemented-knees" → "InventedCementedKnees". */
export function typeNameOf({ name }: ExportDescriptor): string {
  const parts = name.split(/[^A-Za-z0-9]+/).filter((part) => part !== "");
  const joined = parts.map((part) => part.charAt(0).toUpperCase() + part.slice(1)).join("");
  return /^[A-Z]/.test(joined) ? joined : `Export${joined}`;
}

/** File beside the notebooks that holds an export's types. */
export function fieldsFileName({ name }: ExportDescriptor): string {
  const slug = name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "");
  return `${slug === "" ? "export" : slug}.fields.ts`;
}

/**
 * The types of an export: what a plan may name, for an editor to offer and a compiler to check.
 *
 * @param place the descriptor as seen from the folder of the file, to be printed in it.
 */
export function fieldsFile(descriptor: ExportDescriptor, place: string): string {
  const words = wordsOfExport(descriptor);
  const ofKind = (kind: PlannedField["kind"]) =>
    words.fields.filter((field) => field.kind === kind).flatMap(({ names }) => names);
  return `${fieldsFileStart(place)}
// When it changes: npx mantle new --fields-only --export (the folder of that file)

/** ${commented(descriptor.title)}: what a plan may name. */
export interface ${typeNameOf(descriptor)} {
${member("numbers", ofKind("numbers"))}
${member("days", ofKind("days"))}
${codesMember(words)}
${member("texts", ofKind("texts"))}
${member(
  "steps",
  words.steps.map(({ step }) => step),
)}
${member(
  "reasons",
  words.reasons.map(({ word }) => word),
)}
${member(
  "statuses",
  words.statuses.map(({ word }) => word),
)}
}
`;
}

function member(name: string, words: readonly string[]): string {
  return line("  ", name, [...new Set(words)]);
}

/** Each field of codes under both its names. */
function codesMember({ fields }: WordsOfExport): string {
  const lines = fields
    .filter(({ kind }) => kind === "codes")
    .flatMap(({ names, title, codes }) => [
      `    /** ${commented(title)} */`,
      ...names.map((name) =>
        line(
          "    ",
          name,
          codes.map(({ word }) => word),
        ),
      ),
    ]);
  if (lines.length === 0) return "  readonly codes: Record<never, string>;";
  return ["  readonly codes: {", ...lines, "  };"].join("\n");
}

function line(indent: string, name: string, words: readonly string[]): string {
  const key = /^[A-Za-z_$][\w$]*$/.test(name) ? name : quoted(name);
  const start = `${indent}readonly ${key}:`;
  const text = union(words, indent, WIDTH - start.length - 2);
  return `${start}${text.startsWith("\n") ? "" : " "}${text};`;
}
