import type { CodeColumn } from "../base/column.ts";
import type { FindingLog } from "../base/finding-log.ts";
import { UNREADABLE_REASON } from "./cell-status.ts";
import type { ExportField } from "./descriptor.ts";
import { placeOfReason, revisionReasonOf } from "./revision-reasons.ts";

/** Every reason that was ticked for a revision, beside the one that counts as main. */
export interface TickedReasons {
  readonly field: string;
  /** Fields under which the findings stand: those of a second table have the table's name before them. */
  readonly foundAs: readonly string[];
  /** Different sets met, each in the order in which it was written. */
  readonly sets: readonly (readonly string[])[];
  /** Per row: index into `sets`; means nothing where the main reason is missing. */
  readonly setOfRow: Uint16Array;
  /** Rows with more than one reason. */
  readonly several: number;
  /** Of these: the main reason is not the one written first. */
  readonly changed: number;
}

/** The reasons for revision of a table: a column with the main one, its field, and every one ticked. */
export interface MainReasons {
  readonly field: ExportField;
  readonly main: CodeColumn;
  readonly ticked: TickedReasons;
}

/**
 * The main reason of each revision out of a cell that may hold several, such as "pain|infection".
 *
 * The main reason is the first in the stated order of reasons, whatever the order in the cell; of two words with one
 * place in it, that written first. A word that the dictionary does not list makes the whole cell unreadable: the main
 * reason might be the unknown one.
 */
export function tickedReasons(
  field: ExportField,
  column: CodeColumn,
  lineOfRow: Uint32Array,
  log: FindingLog,
): MainReasons {
  const categories = field.categories ?? [];
  const wordOf = new Map(categories.map(({ value }) => [value.trim().toLowerCase(), value]));
  const split = column.codes.map((cell) =>
    cell
      .split(field.delimiter ?? ",")
      .map((part) => part.trim())
      .filter((part) => part !== "")
      .map((part) => wordOf.get(part.toLowerCase())),
  );
  const isKnown = split.map((words) => words.length > 0 && words.every((word) => word !== undefined));
  const sets = split.map((words) => [...new Set(words.filter((word) => word !== undefined))]);
  const places = new Map(
    categories.map((category) => [category.value, placeOfReason(revisionReasonOf(category))]),
  );
  const mains = sets.map((words) => mainOf(words, places));
  const codes = categories.map(({ value }) => value);
  const values = new Uint8Array(column.values.length);
  const missing = Uint8Array.from(column.missing);
  const unreadable = column.missingReasons.includes(UNREADABLE_REASON)
    ? column.missingReasons.indexOf(UNREADABLE_REASON) + 1
    : column.missingReasons.length + 1;
  let [several, changed] = [0, 0];
  for (let row = 0; row < values.length; row += 1) {
    if (missing[row] !== 0) continue;
    // In range: a code is an index into the codes, of which the sets were made.
    const set = column.values[row]!;
    const place = { row: row + 1, line: lineOfRow[row] ?? 0, field: field.name };
    if (isKnown[set] !== true) {
      missing[row] = unreadable;
      log.add({ code: "word-not-in-dictionary", severity: "error", ...place });
      continue;
    }
    values[row] = codes.indexOf(mains[set] ?? "");
    if (sets[set]!.length < 2) continue;
    several += 1;
    log.add({ code: "several-reasons-ticked", severity: "note", ...place });
    if (mains[set] === sets[set]![0]) continue;
    changed += 1;
    log.add({ code: "main-reason-by-order", severity: "note", ...place });
  }
  const missingReasons = column.missingReasons.includes(UNREADABLE_REASON)
    ? column.missingReasons
    : [...column.missingReasons, UNREADABLE_REASON];
  return {
    field,
    main: {
      kind: "code",
      field: field.name,
      values,
      codes,
      labels: categories.map(({ value, label }) => label ?? value),
      missing,
      missingReasons,
    },
    ticked: {
      field: field.name,
      foundAs: [field.name],
      sets,
      setOfRow: Uint16Array.from(column.values),
      several,
      changed,
    },
  };
}

function mainOf(words: readonly string[], places: ReadonlyMap<string, number>): string | undefined {
  const place = (word: string) => places.get(word) ?? Number.POSITIVE_INFINITY;
  return words.reduce<string | undefined>(
    (best, word) => (best === undefined || place(word) < place(best) ? word : best),
    undefined,
  );
}
