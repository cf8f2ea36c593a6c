import { readFileSync } from "node:fs";
import { join } from "node:path";
import { UsageError } from "../../base/errors.ts";
import { DEMO_SEED, syntheticExport } from "../../synthetic/index.ts";
import { EXIT } from "../exit-codes.ts";
import { progress } from "../progress.ts";
import { writeFolder } from "../write-folder.ts";

export interface SynthesiseOptions {
  readonly knees: string;
  readonly surgeons: string;
  readonly centres: string;
  readonly seed?: string;
  readonly out: string;
}

/** Writes an invented export: dictionary, cases, and a note of what was planted. */
export async function synthesise(options: SynthesiseOptions): Promise<number> {
  const said = progress();
  said.step("inventing knees");
  const made = syntheticExport({
    knees: wholeNumber("--knees", options.knees),
    surgeons: wholeNumber("--surgeons", options.surgeons),
    centres: wholeNumber("--centres", options.centres),
    seed: options.seed === undefined ? DEMO_SEED : wholeNumber("--seed", options.seed),
  });
  said.step("writing");
  const files = new Map<string, string | Iterable<string>>([
    ["datapackage.json", `${JSON.stringify(made.descriptor, null, 2)}\n`],
    ["cases.csv", made.csvChunks()],
    ["README.md", made.note],
  ]);
  await writeFolder(options.out, files, {
    isOurs: isInventedExport,
    writes: /^(datapackage\.json|cases\.csv|README\.md)$/,
  });
  said.done("");
  console.log(join(options.out, "datapackage.json"));
  return EXIT.ok;
}

function wholeNumber(option: string, text: string): number {
  if (!/^\d+$/.test(text))
    throw new UsageError("not-a-number", `${option}: write a whole number; received "${text}"`);
  return Number(text);
}

/** A real export is never written over. */
function isInventedExport(folder: string): boolean {
  try {
    const descriptor: { study?: { invented?: unknown } } = JSON.parse(
      readFileSync(join(folder, "datapackage.json"), "utf8"),
    );
    return descriptor.study?.invented === true;
  } catch {
    return false;
  }
}
