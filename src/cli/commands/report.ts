import { existsSync, readdirSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { UsageError } from "../../base/errors.ts";
import { audienceNamed, makeReport } from "../../study/make-report.ts";
import { reportIndex } from "../../study/report-index.ts";
import { EXIT } from "../exit-codes.ts";
import { progress } from "../progress.ts";
import { writeReport } from "../write-report.ts";

/** Runs notebooks one after the other and writes each report whole or not at all. */
export async function report(
  notebooks: readonly string[],
  options: { readonly audience: string; readonly out: string; readonly export?: string },
): Promise<number> {
  const audience = audienceNamed(options.audience);
  const paths = notebooks.length > 0 ? notebooks : everyNotebook();
  refuseForeignIndex(join(options.out, "index.html"));
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
  const found = existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith(".ts")) : [];
  if (found.length === 0) {
    throw new UsageError(
      "no-notebooks",
      "There is no notebook in notebooks/; name one, or run this where they are",
    );
  }
  return found.sort().map((name) => join(folder, name));
}

/** Somebody else's page is never written over. */
function refuseForeignIndex(path: string): void {
  if (!existsSync(path) || readFileSync(path, "utf8").includes('<meta name="generator" content="Mantle">'))
    return;
  throw new UsageError(
    "not-ours",
    `${path}: is a page that this command did not write; name another folder with --out`,
  );
}

/** Lists all reports of the folder, those of earlier runs too. */
function writeIndex(out: string): void {
  const paths = readdirSync(out)
    .sort()
    .map((name) => join(out, name, "results.json"))
    .filter((path) => existsSync(path));
  const fresh = join(out, `.index-${process.pid}`);
  writeFileSync(fresh, reportIndex(new Map(paths.map((path) => [path, readFileSync(path, "utf8")]))));
  renameSync(fresh, join(out, "index.html"));
}
