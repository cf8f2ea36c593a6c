import { readFileSync } from "node:fs";
import { join } from "node:path";
import { count } from "../../base/display.ts";
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
  readonly replace: boolean;
}

/** Fewer hold no revision that a report could show. */
const FEWEST_KNEES = 100;

/**
 * Writes an invented export: dictionary, cases, and a note of what was planted.
 *
 * An export of the same settings is written again; one of other settings stays unless asked for.
 */
export async function synthesise(options: SynthesiseOptions): Promise<number> {
  const sizes = sizesOf(options);
  const said = progress();
  said.step("inventing knees");
  const made = syntheticExport({
    ...sizes,
    seed: options.seed === undefined ? DEMO_SEED : wholeNumber("--seed", options.seed),
  });
  const former = descriptionOf(options.out);
  const isOther = former !== undefined && former !== made.descriptor.description;
  if (isOther && !options.replace) throw otherExport(options.out, former);
  said.step("writing");
  const files = new Map<string, string | Iterable<string>>([
    ["datapackage.json", `${JSON.stringify(made.descriptor, null, 2)}\n`],
    ["cases.csv", made.csvChunks()],
    ["README.md", made.note],
  ]);
  await writeFolder(options.out, files, {
    isOurs: (folder) => descriptionOf(folder) !== undefined,
    writes: /^(datapackage\.json|cases\.csv|README\.md)$/,
  });
  said.done("");
  const { knees, surgeons, centres } = sizes;
  console.log(
    `${isOther ? "Replaced" : "Written"}: ${count(knees)} invented knees, ${count(surgeons)} surgeons, ${count(centres)} centres`,
  );
  console.log(join(options.out, "datapackage.json"));
  return EXIT.ok;
}

function sizesOf(options: SynthesiseOptions) {
  const knees = wholeNumber("--knees", options.knees);
  const surgeons = wholeNumber("--surgeons", options.surgeons);
  const centres = wholeNumber("--centres", options.centres);
  if (knees < FEWEST_KNEES) {
    throw tooFew(`--knees: write ${FEWEST_KNEES} or more; fewer hold no revision that a report could show`);
  }
  if (surgeons < 1 || surgeons > knees) {
    throw tooFew("--surgeons: write a number from 1 to that of the knees; each surgeon operates on some");
  }
  if (centres < 1 || centres > surgeons) {
    throw tooFew("--centres: write a number from 1 to that of the surgeons; each centre has one at least");
  }
  return { knees, surgeons, centres };
}

function tooFew(words: string): UsageError {
  return new UsageError("export-too-small", words);
}

function otherExport(folder: string, description: string): UsageError {
  const settings = description.replace(/^INVENTED DATA: [^.]*\. /, "").replace(/ README\.md .*$/, "");
  return new UsageError(
    "other-export",
    `${folder}: holds an invented export of other settings and stays as it is (${settings}); ` +
      "name another folder with --out, or add --replace",
  );
}

function wholeNumber(option: string, text: string): number {
  if (!/^\d+$/.test(text))
    throw new UsageError("not-a-number", `${option}: write a whole number; received "${text}"`);
  return Number(text);
}

/** What an invented export says of itself; undefined where there is none, for a real one is never written over. */
function descriptionOf(folder: string): string | undefined {
  try {
    const { study, description }: { study?: { invented?: unknown }; description?: unknown } = JSON.parse(
      readFileSync(join(folder, "datapackage.json"), "utf8"),
    );
    return study?.invented === true ? String(description) : undefined;
  } catch {
    return undefined;
  }
}
