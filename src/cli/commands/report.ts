import { existsSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { UsageError } from "../../base/errors.ts";
import { audienceNamed, makeReport } from "../../study/making/make-report.ts";
import { EXIT } from "../exit-codes.ts";
import { failureWords } from "../failure-words.ts";
import { readHeldReports, refuseOverHeld } from "../held-folders.ts";
import { refuseForeignIndex, writeIndex } from "../index-page.ts";
import { progress } from "../progress.ts";
import { wrappedText } from "../wrapped-text.ts";
import { writeReport } from "../write-report.ts";

/**
 * Runs notebooks one after the other and writes each report whole or not at all.
 *
 * Of several notebooks, one that cannot be run is left out with its own message, and the others are made.
 */
export async function report(
  notebooks: readonly string[],
  options: {
    readonly audience: string;
    readonly out: string;
    readonly export?: string;
    readonly readersHold?: readonly string[];
  },
): Promise<number> {
  const audience = audienceNamed(options.audience);
  const readersHold = readHeldReports(options.readersHold);
  const paths = notebooks.length > 0 ? notebooks : everyNotebook();
  refuseForeignIndex(options.out);
  const said = progress();
  const leftOut: string[] = [];
  for (const path of paths) {
    said.step(path);
    try {
      const { id, files } = await makeReport(path, audience, { export: options.export, readersHold });
      const folder = join(options.out, id);
      refuseOverHeld(folder, options.readersHold);
      await writeReport(folder, files);
      said.done("");
      console.log(join(folder, "index.html"));
    } catch (error) {
      said.done("");
      if (paths.length === 1) throw error;
      leftOut.push(path);
      console.error(wrappedText(leftOutWords(path, error), process.stderr.columns));
    }
  }
  if (existsSync(options.out)) writeIndex(options.out);
  if (leftOut.length === 0) return EXIT.ok;
  console.error(`${leftOut.length} of ${paths.length} notebooks left out: ${leftOut.join(", ")}`);
  return EXIT.failed;
}

/** Most messages name the notebook already. */
function leftOutWords(path: string, error: unknown): string {
  const why = failureWords(error, process.env.MANTLE_TRACE === "1");
  return `left out  ${why.startsWith(path) ? why : `${path}: ${why}`}`;
}

function everyNotebook(): string[] {
  const folder = "notebooks";
  const found = existsSync(folder) ? readdirSync(folder).filter(isNotebook) : [];
  if (found.length === 0) {
    throw new UsageError(
      "no-notebooks",
      "There is no notebook in notebooks/; name one, or run this where they are",
    );
  }
  return found.sort().map((name) => join(folder, name));
}

/** The types of an export lie beside the notebooks that use them. */
function isNotebook(name: string): boolean {
  return name.endsWith(".ts") && !name.endsWith(".fields.ts");
}
