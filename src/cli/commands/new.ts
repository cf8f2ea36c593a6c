import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join, relative, resolve, sep } from "node:path";
import { UsageError } from "../../base/errors.ts";
import type { ExportDescriptor } from "../../cases/descriptor.ts";
import { loadDescriptor } from "../../cases/load-descriptor.ts";
import {
  FIELDS_FILE_START,
  fieldsFile,
  fieldsFileName,
  fieldsFileStart,
} from "../../study/authoring/fields-file.ts";
import { notebookFile } from "../../study/authoring/notebook-file.ts";
import { descriptorPath } from "../descriptor-path.ts";
import { EXIT } from "../exit-codes.ts";

export interface NewOptions {
  readonly export: string;
  readonly out: string;
  readonly name?: string;
  readonly fieldsOnly: boolean;
}

/** Words of a question that a file is named after. */
const WORDS_IN_NAME = 6;

/** Writes a notebook to fill in, and the types of its export; a notebook that stands is never written over. */
export async function newNotebook(question: string | undefined, options: NewOptions): Promise<number> {
  const path = descriptorPath(options.export);
  const { descriptor } = loadDescriptor(path);
  const place = relative(resolve(options.out), resolve(path)).split(sep).join("/");
  const fields = join(options.out, fieldsFileName(descriptor));
  refuseOthersFields(fields, place);
  if (options.fieldsOnly) {
    mkdirSync(options.out, { recursive: true });
    return writeFields(fields, descriptor, place);
  }
  const asked = requireQuestion(question);
  const id = options.name === undefined ? idOf(asked) : requireId(options.name);
  const notebook = join(options.out, `${id}.ts`);
  mkdirSync(options.out, { recursive: true });
  writeNew(notebook, notebookFile({ id, question: asked, descriptor, place }));
  console.log(notebook);
  return writeFields(fields, descriptor, place);
}

function requireQuestion(question = ""): string {
  if (question.trim() !== "") return question.trim();
  throw new UsageError(
    "no-question",
    'new: write the question in quotes, as in mantle new "Does it matter?"',
  );
}

/** "Does a tourniquet matter?" → "does-a-tourniquet-matter". */
function idOf(question: string): string {
  const words = question.toLowerCase().match(/[a-z0-9]+/g) ?? [];
  if (words.length > 0) return words.slice(0, WORDS_IN_NAME).join("-");
  throw new UsageError(
    "no-name",
    "new: the question has no letter from a to z to name a file after; add --name",
  );
}

function requireId(name: string): string {
  if (/^[a-z0-9]+(-[a-z0-9]+)*$/.test(name)) return name;
  throw new UsageError("not-a-name", `--name: write lower-case words joined by hyphens; received "${name}"`);
}

function writeNew(path: string, text: string): void {
  if (existsSync(path)) {
    throw new UsageError(
      "notebook-exists",
      `${path}: is there already and stays as it is; name the new one with --name`,
    );
  }
  writeFileSync(path, text, { flag: "wx" });
}

function refuseOthersFields(path: string, place: string): void {
  if (!existsSync(path)) return;
  const [first = ""] = readFileSync(path, "utf8").split("\n", 1);
  if (first === fieldsFileStart(place)) return;
  if (first.startsWith(FIELDS_FILE_START)) {
    throw new UsageError(
      "other-fields",
      `${path}: holds the types of another export and stays as it is; give this export a "name" of its own in its dictionary, or name another folder with --out`,
    );
  }
  throw new UsageError(
    "not-ours",
    `${path}: is a file that this command did not write; move it elsewhere, or name another folder with --out`,
  );
}

function writeFields(path: string, descriptor: ExportDescriptor, place: string): number {
  writeFileSync(path, fieldsFile(descriptor, place));
  console.log(path);
  return EXIT.ok;
}
