import { existsSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { UsageError } from "../../base/errors.ts";
import { audienceNamed, makeReport } from "../../study/make-report.ts";
import { EXIT } from "../exit-codes.ts";
import { refuseForeignIndex, writeIndex } from "../index-page.ts";
import { progress } from "../progress.ts";
import { writeReport } from "../write-report.ts";

/** Runs notebooks one after the other and writes each report whole or not at all. */
export async function report(
  notebooks: readonly string[],
  options: { readonly audience: string; readonly out: string; readonly export?: string },
): Promise<number> {
  const audience = audienceNamed(options.audience);
  const paths = notebooks.length > 0 ? notebooks : everyNotebook();
  refuseForeignIndex(options.out);
  const said = progress();
  for (const path of paths) {
    said.step(path);
    const { id, files } = await makeReport(path, audience, options.export);
    const folder = join(options.out, id);
    await writeReport(folder, files);
    said.done("");
    console.log(join(folder, "index.html"));
  }
  writeIndex(options.out);
  return EXIT.ok;
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
