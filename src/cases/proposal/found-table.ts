import { join } from "node:path";
import { ExportError } from "../export-error.ts";
import { type FileKind, fileKind } from "../tables/file-kind.ts";
import { type OpenTable, openFiles, type TableSettings } from "../tables/open-table.ts";
import { headText } from "./head-text.ts";

/** Files that nobody has described, read as the one kind of table that they can be. */
export interface FoundTable {
  readonly open: OpenTable;
  readonly kind: FileKind;
  readonly settings: TableSettings;
  /** Why these settings, in sentences. */
  readonly evidence: readonly string[];
}

const ENCODINGS = ["utf-8", "utf-16le", "utf-16be", "windows-1252"] as const;
const DELIMITERS = [";", ",", "\t", "|"] as const;
const QUOTES = ['"', "'"] as const;
const NAMES = { ";": "semicolon", ",": "comma", "\t": "tab", "|": "bar" } as const;

/**
 * Tries every encoding, delimiter and quote that can be, on all bytes, and takes the one under which every record is
 * sound.
 *
 * Of several the one with the most columns is taken, and the others are named. Throws ExportError with the findings of
 * the nearest attempt where none fits.
 */
export async function foundTable(folder: string, names: readonly string[]): Promise<FoundTable> {
  const kinds = names.map((name) => fileKind(join(folder, name)));
  const [kind = "csv"] = kinds;
  if (!kinds.includes("csv")) {
    const open = await openFiles(folder, names);
    requireSound(open);
    return { open, kind, settings: {}, evidence: [`the first bytes are those of ${kind}`] };
  }
  return { ...(await foundText(folder, names)), kind };
}

interface Attempt {
  readonly open: OpenTable;
  readonly settings: {
    readonly delimiter: (typeof DELIMITERS)[number];
    readonly quote: string;
    readonly encoding: (typeof ENCODINGS)[number];
  };
}

async function foundText(folder: string, names: readonly string[]): Promise<Omit<FoundTable, "kind">> {
  const text = headText(join(folder, names[0] ?? ""));
  const delimiters = DELIMITERS.filter((mark) => text.includes(mark));
  const quotes = QUOTES.filter((mark) => mark === '"' || text.includes(mark));
  let nearest: Attempt | undefined;
  let refusal: ExportError | undefined;
  for (const encoding of ENCODINGS) {
    const sound: Attempt[] = [];
    for (const delimiter of delimiters.length === 0 ? ([","] as const) : delimiters) {
      for (const quote of quotes) {
        const settings = { encoding, delimiter, quote };
        try {
          const attempt = { open: await openFiles(folder, names, settings), settings };
          nearest = nearer(nearest, attempt);
          if (isSound(attempt)) sound.push(attempt);
        } catch (error) {
          if (!(error instanceof ExportError)) throw error;
          refusal ??= error;
        }
      }
    }
    const best = mostColumns(sound);
    if (best !== undefined) return { ...best, evidence: evidenceOf(best, sound) };
  }
  if (nearest === undefined) throw refusal;
  throw new ExportError(
    "no delimiter, quote and encoding make a sound table of the file",
    nearest.open.table.findings,
  );
}

function isSound({ open: { table } }: Attempt): boolean {
  // A single column is a table under any delimiter, and no case export.
  return table.findings.errors === 0 && table.header.length > 1;
}

function nearer(one: Attempt | undefined, other: Attempt): Attempt {
  if (one === undefined) return other;
  const errors = (attempt: Attempt) =>
    attempt.open.table.findings.errors +
    (attempt.open.table.header.length > 1 ? 0 : Number.MAX_SAFE_INTEGER / 2);
  return errors(other) < errors(one) ? other : one;
}

function mostColumns(sound: readonly Attempt[]): Attempt | undefined {
  return sound.reduce<Attempt | undefined>(
    (best, each) =>
      best !== undefined && best.open.table.header.length >= each.open.table.header.length ? best : each,
    undefined,
  );
}

function evidenceOf({ open: { table }, settings }: Attempt, sound: readonly Attempt[]): string[] {
  const { delimiter, encoding } = settings;
  const columns = table.header.length;
  const others = new Set(sound.map((each) => each.settings.delimiter).filter((mark) => mark !== delimiter));
  return [
    `delimiter ${NAMES[delimiter]}: every record has ${columns} cells`,
    ...[...others].map((mark) => `a ${NAMES[mark]} would fit as well, with fewer columns`),
    encoding === "windows-1252"
      ? "encoding windows-1252: the bytes are not UTF-8; other encodings of one byte a sign look the same, so look at special letters"
      : `encoding ${encoding}: all bytes fit`,
  ];
}

function requireSound({ table }: OpenTable): void {
  if (table.findings.errors > 0) throw new ExportError("the file is not a sound table", table.findings);
}
