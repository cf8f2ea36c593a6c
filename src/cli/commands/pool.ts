import { join } from "node:path";
import { UsageError } from "../../base/errors.ts";
import { audienceNamed } from "../../study/make-report.ts";
import { poolReport, poolReportId } from "../../study/pool-report.ts";
import { EXIT } from "../exit-codes.ts";
import { progress } from "../progress.ts";
import { writeReport } from "../write-report.ts";

export interface PoolOptions {
  readonly out: string;
  readonly audience: string;
  readonly years: string;
  readonly periods: string;
}

/** Adds the counts of several sources and writes one report, whole or not at all. */
export async function pool(counts: readonly string[], options: PoolOptions): Promise<number> {
  const { out } = options;
  const audience = audienceNamed(options.audience);
  const years = risingYears("--years", options.years);
  const periods = options.periods === "none" ? [] : risingYears("--periods", options.periods);
  const said = progress();
  said.step("adding counts");
  const files = poolReport(counts, { audience, years, periods, id: poolReportId(out) });
  await writeReport(out, files);
  said.done("");
  console.log(join(out, "index.html"));
  return EXIT.ok;
}

/** "5,10": numbers above 0, each larger than the one before. */
function risingYears(option: string, text: string): number[] {
  const years = text.split(",").map((part) => (/^\d+(\.\d+)?$/.test(part.trim()) ? Number(part) : 0));
  if (years.every((year, at) => year > (years[at - 1] ?? 0))) return years;
  throw new UsageError(
    "not-years",
    `${option}: write rising numbers of years such as 5,10; received "${text}"`,
  );
}
