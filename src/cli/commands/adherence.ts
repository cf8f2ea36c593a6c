import { basename, dirname, join, resolve } from "node:path";
import { loadDescriptor } from "../../cases/load-descriptor.ts";
import { adherenceReport } from "../../study/adherence/adherence-report.ts";
import { defineAdherence } from "../../study/adherence/define-adherence.ts";
import { planFromOptions } from "../../study/adherence/plan-from-options.ts";
import { audienceNamed } from "../../study/making/make-report.ts";
import { descriptorPath } from "../descriptor-path.ts";
import { EXIT } from "../exit-codes.ts";
import { readHeldReports, refuseOverHeld } from "../held-folders.ts";
import { idOfFolder } from "../id-of-folder.ts";
import { refreshIndex } from "../index-page.ts";
import { wholeNumber } from "../number-options.ts";
import { progress } from "../progress.ts";
import { standardLines } from "../standard-lines.ts";
import { writeReport } from "../write-report.ts";

export interface AdherenceOptions {
  readonly out: string;
  readonly audience: string;
  readonly atLeast: readonly string[];
  readonly atMost: readonly string[];
  readonly change?: string;
  readonly years?: string;
  readonly stratum: readonly string[];
  readonly readersHold?: readonly string[];
}

/** Which steps are done, and against what standard: prints a table and writes the page behind it. */
export async function adherence(path: string, options: AdherenceOptions): Promise<number> {
  const audience = audienceNamed(options.audience);
  const readersHold = readHeldReports(options.readersHold);
  refuseOverHeld(options.out, options.readersHold);
  const dictionary = resolve(descriptorPath(path));
  const { descriptor } = loadDescriptor(dictionary);
  const plan = planFromOptions({
    id: idOfFolder(options.out, "adherence"),
    // The folder is the machine's business: the plan is printed in the page.
    export: basename(dictionary),
    title: descriptor.title,
    atLeast: options.atLeast,
    atMost: options.atMost,
    strata: options.stratum,
    ...(options.change === undefined ? {} : { change: options.change }),
    ...(options.years === undefined ? {} : { yearsInBlock: wholeNumber("--years", options.years) }),
  });
  const said = progress();
  said.step("looking at what was done");
  const { files, standards } = await adherenceReport(
    defineAdherence(plan),
    { folder: dirname(dictionary), fileName: basename(dictionary), source: "" },
    audience,
    readersHold,
  );
  await writeReport(options.out, files);
  refreshIndex(dirname(resolve(options.out)));
  said.done("");
  for (const line of standards === undefined ? [] : standardLines(standards)) console.log(line);
  console.log(join(options.out, "index.html"));
  return EXIT.ok;
}
