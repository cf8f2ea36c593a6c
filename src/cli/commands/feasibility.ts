import { basename, dirname, join, resolve } from "node:path";
import { UsageError } from "../../base/errors.ts";
import { loadDescriptor } from "../../cases/load-descriptor.ts";
import { defineFeasibility } from "../../study/feasibility/define-feasibility.ts";
import { feasibilityReport } from "../../study/feasibility/feasibility-report.ts";
import { type AskedOfDescriptor, planFromDescriptor } from "../../study/feasibility/plan-from-descriptor.ts";
import { audienceNamed } from "../../study/making/make-report.ts";
import { askedLines } from "../asked-lines.ts";
import { descriptorPath } from "../descriptor-path.ts";
import { EXIT } from "../exit-codes.ts";
import { readHeldReports, refuseOverHeld } from "../held-folders.ts";
import { idOfFolder } from "../id-of-folder.ts";
import { refreshIndex } from "../index-page.ts";
import { differencePer1000, numberOption, ratioOption, risingYears, wholeNumber } from "../number-options.ts";
import { optionFaults } from "../option-faults.ts";
import { progress } from "../progress.ts";
import { verdictLines } from "../verdict-lines.ts";
import { writeReport } from "../write-report.ts";

export interface FeasibilityOptions {
  readonly out: string;
  readonly audience: string;
  readonly outcome?: string;
  readonly ratio?: string;
  readonly per1000?: string;
  readonly year: string;
  readonly periods: string;
  readonly stratum: readonly string[];
  readonly readersHold?: readonly string[];
  readonly comparisons?: string;
}

/** Options of the places of a plan. */
const OPTIONS = { strata: "--stratum", outcomes: "--outcome", plannedComparisons: "--comparisons" };

/** Twice as often: what matters where nobody says otherwise. */
const DEFAULT_RATIO = 2;

/** Which steps of an export can be compared: prints a table and writes the page behind it, from a descriptor alone. */
export async function feasibility(path: string, options: FeasibilityOptions): Promise<number> {
  const audience = audienceNamed(options.audience);
  const readersHold = readHeldReports(options.readersHold);
  refuseOverHeld(options.out, options.readersHold);
  const dictionary = resolve(descriptorPath(path));
  const { descriptor } = loadDescriptor(dictionary);
  const matters = mattersOf(options);
  const year = numberOption("--year", options.year);
  const plan = planFromDescriptor(descriptor, {
    id: idOfFolder(options.out, "feasibility"),
    // The folder is the machine's business: the plan is printed in the page.
    export: basename(dictionary),
    matters,
    year,
    periods: options.periods === "none" ? [] : risingYears("--periods", options.periods),
    strata: options.stratum,
    ...(options.outcome === undefined ? {} : { outcome: options.outcome }),
    ...(options.comparisons === undefined
      ? {}
      : { plannedComparisons: wholeNumber("--comparisons", options.comparisons) }),
  });
  const said = progress();
  said.step("looking at what the export can answer");
  const { files, verdicts, comparisons } = await feasibilityReport(
    defineFeasibility(plan),
    { folder: dirname(dictionary), fileName: basename(dictionary), source: "" },
    audience,
    readersHold,
  ).catch((error) => {
    throw optionFaults("feasibility", OPTIONS, error);
  });
  await writeReport(options.out, files);
  refreshIndex(dirname(resolve(options.out)));
  said.done("");
  const isDefault = options.ratio === undefined && options.per1000 === undefined;
  const asked = askedLines({ matters, year, isDefault }, comparisons);
  for (const line of [...verdictLines(verdicts), ...asked]) console.log(line);
  console.log(join(options.out, "index.html"));
  return EXIT.ok;
}

function mattersOf({ ratio, per1000 }: FeasibilityOptions): AskedOfDescriptor["matters"] {
  if (ratio !== undefined && per1000 !== undefined) {
    throw new UsageError("two-differences", "--ratio, --per1000: give one of them, not both");
  }
  const reason = "as asked on the command line";
  if (per1000 !== undefined) return { per1000: differencePer1000("--per1000", per1000), reason };
  if (ratio !== undefined) return { ratio: ratioOption("--ratio", ratio), reason };
  return { ratio: DEFAULT_RATIO, reason: "taken where nobody says what matters" };
}
