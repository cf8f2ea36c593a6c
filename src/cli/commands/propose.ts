import { existsSync, readdirSync, statSync, writeFileSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { count } from "../../base/display.ts";
import { UsageError } from "../../base/errors.ts";
import { numbered } from "../../base/words.ts";
import { describeFinding } from "../../cases/messages.ts";
import type { FieldProposal } from "../../cases/proposal/field-proposal.ts";
import { type Proposal, proposeDictionary } from "../../cases/proposal/propose-dictionary.ts";
import { TABLE_FILE } from "../../cases/tables/require-files.ts";
import { EXIT } from "../exit-codes.ts";
import { progress } from "../progress.ts";
import { wrappedText } from "../wrapped-text.ts";

const DICTIONARY = "datapackage.json";

/** Whether the path names tables, not a dictionary. */
export function lacksDictionary(path: string): boolean {
  const found = statSync(path, { throwIfNoEntry: false });
  if (found === undefined) return false;
  if (!found.isDirectory()) return !path.endsWith(".json");
  return !existsSync(join(path, DICTIONARY)) && tablesIn(path).length > 0;
}

/** Proposes the dictionary of a table, or of a folder of tables with the same columns, and prints why. */
export async function propose(path: string, options: { json: boolean; propose?: string }): Promise<number> {
  const isFolder = statSync(path).isDirectory();
  const folder = isFolder ? path : dirname(path);
  if (options.propose !== undefined) requireFree(options.propose, folder);
  const said = progress();
  said.step("reading every row");
  const proposal = await proposeDictionary(folder, isFolder ? tablesIn(path) : [basename(path)]);
  said.done("");
  if (options.json) console.log(JSON.stringify(proposal, null, 2));
  else console.log(wrappedText(proposalText(proposal).join("\n"), process.stdout.columns));
  if (options.propose !== undefined) {
    writeFileSync(options.propose, `${JSON.stringify(proposal.descriptor, null, 2)}\n`, { flag: "wx" });
  }
  if (!options.json) console.log(savedWords(options.propose, join(folder, DICTIONARY)));
  return proposal.findings.errors > 0 ? EXIT.no : EXIT.ok;
}

/** In code-unit order, so that the years of a folder follow one another. */
function tablesIn(folder: string): string[] {
  return readdirSync(folder)
    .filter((name) => TABLE_FILE.test(name))
    .sort();
}

function savedWords(saved: string | undefined, place: string): string {
  return saved === undefined
    ? `Nothing was written: save the proposed dictionary with --propose ${place}, or print it with --json.`
    : `Written to ${saved}: replace each "?" in it.`;
}

function requireFree(out: string, folder: string): void {
  if (resolve(dirname(out)) !== resolve(folder)) {
    throw new UsageError(
      "proposal-elsewhere",
      `${out}: a dictionary lies beside its table; write it there, with --propose ${join(folder, DICTIONARY)}`,
    );
  }
  if (existsSync(out)) throw new UsageError("proposal-exists", `${out}: exists already; name another file`);
}

function proposalText({ rows, evidence, fields, open, findings }: Proposal): string[] {
  return [
    `${numbered(count(rows), "row")} read, ${numbered(fields.length, "column")}. No dictionary was given; this one is proposed.`,
    ...evidence.map((line) => `  ${line}`),
    "",
    ...fields.flatMap(fieldText),
    "",
    ...findings.groups.map((group) => `${group.severity}  ${describeFinding(group)}`),
    ...(findings.groups.length === 0 ? [] : [""]),
    'Left open ("?"): a person must decide before the export can be read',
    ...open.map((line) => `  ${line}`),
    ...fields.flatMap(({ field, open: own }) => own.map((line) => `  ${String(field.name)}: ${line}`)),
    ...rolelessLines(fields),
    "",
  ];
}

/** A column without a role is read, but nobody knows what it stands for. */
function rolelessLines(fields: readonly FieldProposal[]): string[] {
  const names = fields.filter(({ field }) => field.role === undefined).map(({ field }) => String(field.name));
  if (names.length === 0) return [];
  return [
    `  without a role: ${names.join(", ")}; give each that stands for something its role (reports/what-a-plan-may-say.md lists them)`,
  ];
}

function fieldText({ field, evidence }: FieldProposal): string[] {
  const { name, role = "no role", type, format } = field;
  return [
    `${String(name)}: ${String(role)}, ${String(type)}${format === undefined ? "" : ` ${String(format)}`}`,
    ...evidence.map((line) => `    ${line}`),
  ];
}
