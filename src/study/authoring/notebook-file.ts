import type { ExportDescriptor } from "../../cases/descriptor.ts";
import { fieldsFileName, typeNameOf } from "./fields-file.ts";
import { commentLines, quoted } from "./source-text.ts";
import {
  type PlannedField,
  type WordOfExport,
  type WordsOfExport,
  wordsOfExport,
} from "./words-of-export.ts";

/** What a new notebook is made from. */
export interface NewNotebook {
  readonly id: string;
  readonly question: string;
  readonly descriptor: ExportDescriptor;
  /** The descriptor as seen from the notebook's folder. */
  readonly place: string;
}

/**
 * A notebook to fill in. It holds what the export has; every decision is left open as "?", which neither the compiler nor
 * the run lets pass.
 */
export function notebookFile({ id, question, descriptor, place }: NewNotebook): string {
  const words = wordsOfExport(descriptor);
  const type = typeNameOf(descriptor);
  return `import { defineStudy } from "mantle-outcomes";
import type { ${type} } from "./${fieldsFileName(descriptor)}";

// Every "?" is yours to decide, before any result is seen: a report names those that are left.
export default defineStudy<${type}>({
  id: ${quoted(id)},
  title: "?",
  question: ${quoted(question)},
  export: ${quoted(place)},

  // Who is studied: each rule has a name for readers, and keeps codes (oneOf) or a range (from, to).
  // An empty list studies every row.
${fieldLines(words.fields).join("\n")}
  eligibility: [{ label: "?", field: "?", oneOf: ["?"] }],

${exposureLines(words).join("\n")}

${endpointLines(words, descriptor).join("\n")}

  // Years at which risks are printed, and the years at which one rate period ends and the next begins.
  years: ["?"],
  periods: ["?"],

  // The table of what was known at the start, by group. It decides nothing.
  covariates: ["?"],

  // What the ratio is adjusted for: settled before the step, each with a reason, never chosen by its p.
  // Take the whole entry out where nothing is adjusted for.
  adjusters: [{ field: "?", settled: "?", reason: "?" }],

  // The smallest difference among 1000, at the last of the years, for which anybody would change what is done.
  smallestDifferenceThatMatters: { per1000: "?", reason: "?" },
});
`;
}

function fieldLines(fields: readonly PlannedField[]): string[] {
  const all = fields.map(({ names, title, kind, codes }) => {
    const kindWords = {
      numbers: "a number",
      days: "a date such as 2015-01-31",
      texts: "codes that the dictionary does not list",
      codes: codes.map(({ word }) => word).join(" / "),
    }[kind];
    return `${names[0]} – ${title}: ${kindWords}`;
  });
  return all.length === 0 ? [] : commentLines("Fields:", all);
}

function exposureLines({ steps, fields }: WordsOfExport): string[] {
  if (steps.length > 0) {
    return [
      "  // The step that is compared, done against not done. Not recorded is never read as no.",
      ...commentLines(
        "Recorded here:",
        steps.map(({ step, title }) => `${step} – ${title}`),
      ),
      `  exposure: { step: "?", labels: { done: "?", notDone: "?" } },`,
    ];
  }
  const coded = fields.filter(({ kind }) => kind === "codes").map(({ names }) => names[0] ?? "");
  return [
    "  // What is compared: a field of codes, and those of its codes that are set against one another, in order.",
    ...(coded.length === 0 ? [] : commentLines("Fields of codes:", coded)),
    `  exposure: { field: "?", groups: ["?", "?"] },`,
  ];
}

function endpointLines({ reasons, statuses }: WordsOfExport, { study }: ExportDescriptor): string[] {
  const captured = `revisions ${captureWords(study.revisionCapture)}, deaths ${captureWords(study.deathCapture)}`;
  const intro = [
    "  // What is counted, and what can come first. Whatever is named nowhere ends follow-up as if nothing had happened.",
    ...listed("Reasons for revision:", reasons),
    ...listed("What ended follow-up:", statuses),
  ];
  const outcomes =
    reasons.length > 0
      ? [
          `    event: { label: "?", revisionFor: ["?"] },`,
          "    competing: [",
          `      { label: "?", revisionFor: "?" }, // reasons in [ ], or "other" for all that are named nowhere else`,
          '      { label: "death", death: true },',
          "    ],",
        ]
      : [`    event: { label: "?", status: "?" },`, `    competing: [{ label: "?", status: "?" }],`];
  return [
    ...intro,
    "  endpoint: {",
    ...outcomes,
    "    // dataCut where revisions and deaths reach the export wherever they happen; else lastContact, or hybrid.",
    `    // The dictionary states: ${captured}.`,
    `    censoring: "?",`,
    "  },",
  ];
}

function listed(start: string, words: readonly WordOfExport[]): string[] {
  if (words.length === 0) return [];
  return commentLines(
    start,
    words.map(({ word, label }) => (word === label ? word : `${word} – ${label}`)),
  );
}

function captureWords(capture: ExportDescriptor["study"]["revisionCapture"]): string {
  return { national: "are captured nationally", ownUnit: "in the own unit alone", unknown: "not known how" }[
    capture
  ];
}
