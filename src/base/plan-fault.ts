import { nearestWord } from "./nearest-word.ts";

/** What is wrong at one place of a plan, in parts: whoever knows the notebook puts its name and line before them. */
export interface PlanFault {
  /** Stable name, such as `unknown-field`. */
  readonly code: string;
  /** Where in the plan: "covariates[2]". */
  readonly place: string;
  /** What is wrong there and what to do. */
  readonly what: string;
  /** The word at fault, as it stands in the notebook. */
  readonly written?: string;
  /** What could stand there. */
  readonly known?: KnownWords;
}

/** Code of a decision that is not made yet. */
export const STILL_OPEN = "still-open";

/** Words that exist, under a heading such as "Fields of the export". */
export interface KnownWords {
  readonly heading: string;
  readonly words: readonly string[];
}

/** Lines of a list of words are no longer, so that they can be read wherever they end up. */
const LINE_LENGTH = 96;

/** A word that nothing answers to. */
export interface UnknownWord extends Pick<PlanFault, "code" | "place"> {
  readonly written: string;
  /** What it is not: "is no step". */
  readonly is: string;
  readonly known?: KnownWords;
  /** The word that was most likely meant. Default: the nearest of those known. */
  readonly nearest?: string | undefined;
  /** What to do where none is near. Default: to take one of those known. */
  readonly otherwise?: string;
}

/** The fault of a word that nothing answers to, with the nearest word and those that exist. */
export function unknownWord({ code, place, written, is, known, ...or }: UnknownWord): PlanFault {
  const { nearest = nearestWord(written, known?.words ?? []), otherwise = "take one of those listed below" } =
    or;
  const what = `"${written}" ${is}; ${nearest === undefined ? otherwise : `did you mean "${nearest}"?`}`;
  const fault = { code, place, what, written };
  return known === undefined || known.words.length === 0 ? fault : { ...fault, known };
}

/** Where faults are: the notebook, and the line of each that has one. */
export interface FaultyFile {
  readonly path: string;
  readonly lineOf: (fault: PlanFault) => number | undefined;
}

/**
 * All faults of a plan for the person who wrote it: one a line, then what exists, each list once.
 *
 * @param caller who found them, where the notebook is not known.
 */
export function planFaultsText(faults: readonly PlanFault[], from: FaultyFile | string): string {
  const lists = listsOf(faults).flatMap(listLines);
  const [only] = faults;
  if (faults.length === 1 && only !== undefined) {
    const where =
      typeof from === "string" ? `${from}: ${only.place}` : `${from.path}, ${placeOf(only, from)}`;
    return [`${where}: ${only.what}`, ...lists].join("\n");
  }
  const start = typeof from === "string" ? from : from.path;
  const lines = faults.map((fault) => `  ${placeOf(fault, from)}: ${fault.what}`);
  return [`${start}: ${headingOf(faults)}`, ...lines, ...lists].join("\n");
}

function headingOf(faults: readonly PlanFault[]): string {
  const open = faults.filter(({ code }) => code === STILL_OPEN).length;
  if (open === faults.length) return `${open} parts of the plan are still to be decided (each "?" in them)`;
  return `${faults.length} places of the plan are to be corrected${open === 0 ? "" : " or decided"}`;
}

function placeOf(fault: PlanFault, from: FaultyFile | string): string {
  const line = typeof from === "string" ? undefined : from.lineOf(fault);
  return line === undefined ? fault.place : `line ${line}, ${fault.place}`;
}

function listsOf(faults: readonly PlanFault[]): KnownWords[] {
  const byHeading = new Map(
    faults.flatMap(({ known }) => (known === undefined ? [] : [[known.heading, known]])),
  );
  return [...byHeading.values()];
}

function listLines({ heading, words }: KnownWords): string[] {
  const lines: string[] = [];
  let line = "";
  words.forEach((word, at) => {
    const next = at < words.length - 1 ? `"${word}",` : `"${word}"`;
    if (line !== "" && line.length + 1 + next.length > LINE_LENGTH) {
      lines.push(line);
      line = "";
    }
    line = line === "" ? next : `${line} ${next}`;
  });
  return [`  ${heading}:`, ...[...lines, line].map((each) => `    ${each}`)];
}
