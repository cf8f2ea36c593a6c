import type { CodeColumn, Column } from "../base/column.ts";
import type { FindingLog } from "../base/finding-log.ts";
import { UNREADABLE_REASON } from "./cell-status.ts";
import type { ExportField } from "./descriptor.ts";
import { type ReasonWord, reasonOfTicks, withTickedWords } from "./reason-words.ts";
import { placeOfReason, type RevisionReason, revisionReasonOf } from "./revision-reasons.ts";
import type { MainReasons } from "./ticked-reasons.ts";

/** Name of the field made of ticks where no field states a main reason. */
const MADE_FIELD = "revision_reason";
const NO_TICK = "no reason ticked";
/** Words that say that a reason was not ticked where the dictionary does not mark one with `absent`. */
const WORDS_OF_NO_TICK: readonly string[] = ["false", "no", "n", "0"];

/** Whether a word of a field of ticks says that the reason was given. */
export function saysTicked(field: ExportField, word: string): boolean {
  const category = field.categories?.find(({ value }) => value === word);
  return !(category?.absent ?? WORDS_OF_NO_TICK.includes(word.trim().toLowerCase()));
}

/**
 * The main reason of each revision out of columns of ticks, one a reason, beside a stated main reason where there is one.
 *
 * The reasons of a row are the stated one, then those ticked in the order of the dictionary; the main one is the first in
 * the stated order of reasons. A blank is no tick. A tick that is not readable makes the row's reason unreadable: it might
 * be the main one. Undefined where no field holds ticks.
 */
export function reasonsOfTicks(
  fields: readonly ExportField[],
  columns: ReadonlyMap<string, Column>,
  lineOfRow: Uint32Array,
  log: FindingLog,
): MainReasons | undefined {
  const ticks = tickColumns(fields, columns);
  const stated = statedReason(fields, columns);
  const [first] = ticks;
  if (first === undefined) return undefined;
  const words = wordsAsRead(stated, ticks);
  const name = stated?.field.name ?? freeName(columns);
  const givenAt = reasonReader(words, stated, ticks);
  const sets = setsOfReasons(words);
  const rows = first.column.values.length;
  const [values, setOfRow, missing] = [new Uint16Array(rows), new Uint16Array(rows), new Uint8Array(rows)];
  const missingReasons = [...new Set([...(stated?.column.missingReasons ?? []), NO_TICK, UNREADABLE_REASON])];
  let [several, changed] = [0, 0];
  for (let row = 0; row < rows; row += 1) {
    const { codes, missingFor } = givenAt(row);
    if (missingFor !== undefined) {
      missing[row] = missingReasons.indexOf(missingFor) + 1;
      continue;
    }
    const { set, main } = sets.place(codes);
    setOfRow[row] = set;
    values[row] = main;
    if (codes.length < 2) continue;
    const place = { row: row + 1, line: lineOfRow[row] ?? 0, field: name };
    several += 1;
    log.add({ code: "several-reasons-ticked", severity: "note", ...place });
    if (main === codes[0]) continue;
    changed += 1;
    log.add({ code: "main-reason-by-order", severity: "note", ...place });
  }
  const codes = words.map(({ value }) => value);
  const labels = words.map(({ value, label }) => label ?? value);
  return {
    field: madeField(name, stated?.field, words),
    main: { kind: "code", field: name, values, codes, labels, missing, missingReasons },
    ticked: { field: name, foundAs: [name], sets: sets.met, setOfRow, several, changed },
  };
}

/** Codes of the reasons given in a row, the one written first in front; or why there are none. */
function reasonReader(
  words: readonly ReasonWord[],
  stated: StatedReason | undefined,
  ticks: readonly TickColumn[],
): (row: number) => { readonly codes: readonly number[]; readonly missingFor?: string } {
  const whyMissing = ({ missing, missingReasons }: CodeColumn, row: number) =>
    missingReasons[(missing[row] ?? 0) - 1];
  return (row) => {
    const why = stated === undefined ? NO_TICK : whyMissing(stated.column, row);
    const codes = stated === undefined || why !== undefined ? [] : [stated.column.values[row] ?? 0];
    if (why === UNREADABLE_REASON) return { codes, missingFor: why };
    for (const { reason, column, isTick } of ticks) {
      const without = whyMissing(column, row);
      if (without === UNREADABLE_REASON) return { codes, missingFor: without };
      if (without !== undefined || isTick[column.values[row] ?? 0] !== true) continue;
      if (codes.some((code) => words[code]?.reason === reason)) continue;
      codes.push(words.findIndex((word) => word.reason === reason));
    }
    return codes.length === 0 ? { codes, missingFor: why ?? NO_TICK } : { codes };
  };
}

/** The different sets of reasons, each with the main one of its own. */
function setsOfReasons(words: readonly ReasonWord[]) {
  const met: string[][] = [];
  const known = new Map<string, { readonly set: number; readonly main: number }>();
  const placeOf = (code: number) => placeOfReason(words[code]?.reason ?? "other");
  return {
    met,
    place(codes: readonly number[]) {
      const key = codes.join();
      const before = known.get(key);
      if (before !== undefined) return before;
      const main = codes.reduce((best, code) => (placeOf(code) < placeOf(best) ? code : best));
      const placed = { set: met.push(codes.map((code) => words[code]?.value ?? "")) - 1, main };
      known.set(key, placed);
      return placed;
    },
  };
}

interface TickColumn {
  readonly field: ExportField;
  readonly reason: RevisionReason;
  readonly column: CodeColumn;
  /** For each code of the column. */
  readonly isTick: readonly boolean[];
}

interface StatedReason {
  readonly field: ExportField;
  readonly column: CodeColumn;
}

function tickColumns(
  fields: readonly ExportField[],
  columns: ReadonlyMap<string, Column>,
): readonly TickColumn[] {
  return fields.flatMap((field) => {
    const reason = reasonOfTicks(field);
    const column = columns.get(field.name);
    if (reason === undefined || column?.kind !== "code") return [];
    return [{ field, reason, column, isTick: column.codes.map((word) => saysTicked(field, word)) }];
  });
}

function statedReason(
  fields: readonly ExportField[],
  columns: ReadonlyMap<string, Column>,
): StatedReason | undefined {
  const field = fields.find(({ role }) => role === "revisionReason");
  const column = columns.get(field?.name ?? "");
  return field !== undefined && column?.kind === "code" ? { field, column } : undefined;
}

/** The words that may stand in the stated reason, those met included, and those of the ticks. */
function wordsAsRead(stated: StatedReason | undefined, ticks: readonly TickColumn[]): readonly ReasonWord[] {
  const known = (stated?.column.codes ?? []).map((value, place): ReasonWord => {
    const label = stated?.column.labels[place];
    const category = stated?.field.categories?.find((each) => each.value === value) ?? { value, label };
    return { value, label, reason: revisionReasonOf(category) };
  });
  return withTickedWords(
    known,
    ticks.map(({ field }) => field),
  );
}

function freeName(columns: ReadonlyMap<string, Column>): string {
  let name = MADE_FIELD;
  while (columns.has(name)) name += "_ticked";
  return name;
}

/** The field as it is after the ticks were read: with every word that may stand in it. */
function madeField(name: string, stated: ExportField | undefined, words: readonly ReasonWord[]): ExportField {
  return {
    title: "reason for revision",
    description: "Made of the columns of ticks; the first in the stated order of reasons.",
    ...stated,
    name,
    type: "string",
    role: "revisionReason",
    categories: words.map(({ value, label, reason }) => ({
      value,
      reason,
      ...(label !== undefined && { label }),
    })),
  };
}
