import { existsSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { UsageError } from "../../base/errors.ts";
import { pseudonymiser, readKey } from "../../cases/pseudonym.ts";
import { DATE_TREATMENTS, type DateTreatment, pseudonymise } from "../../study/pseudonymised/pseudonymise.ts";
import { EXIT } from "../exit-codes.ts";
import { progress } from "../progress.ts";
import { type OwnFolder, writeFolder } from "../write-folder.ts";

export interface PseudonymiseCommand {
  readonly key: string;
  readonly out: string;
  readonly drop: string;
  readonly replace: string;
  readonly dates: string;
}

const PSEUDONYMISED: OwnFolder = {
  isOurs: (folder) => existsSync(join(folder, "pseudonymise-log.json")),
  writes: /^(cases\.csv|linked-[0-9]+-[a-z0-9-]*\.csv|datapackage\.json|pseudonymise-log\.json)$/,
};

/** Writes a pseudonymised export with its dictionary and a log, whole or not at all. */
export async function pseudonymiseExport(path: string, options: PseudonymiseCommand): Promise<number> {
  const dates = treatmentNamed(options.dates);
  const descriptor = statSync(path, { throwIfNoEntry: false })?.isDirectory()
    ? join(path, "datapackage.json")
    : path;
  const key = pseudonymiser(readKey(options.key, [process.cwd(), dirname(descriptor), options.out]));
  const said = progress();
  said.step("replacing keys");
  const { files, warnings } = await pseudonymise(descriptor, key, {
    drop: listed(options.drop),
    replace: listed(options.replace),
    dates,
  });
  await writeFolder(options.out, files, PSEUDONYMISED);
  said.done("");
  for (const warning of warnings) console.log(`warning  ${warning}`);
  console.log(join(options.out, "datapackage.json"));
  return EXIT.ok;
}

function listed(text: string): string[] {
  return text
    .split(",")
    .map((name) => name.trim())
    .filter((name) => name !== "");
}

function treatmentNamed(text: string): DateTreatment {
  const known = DATE_TREATMENTS.find((each) => each === text);
  if (known !== undefined) return known;
  throw new UsageError(
    "unknown-treatment",
    `--dates: "${text}" is unknown; accepted: ${DATE_TREATMENTS.join(", ")}`,
  );
}
