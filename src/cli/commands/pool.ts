import { dirname, join, resolve } from "node:path";
import { audienceNamed } from "../../study/making/make-report.ts";
import { poolReport, poolReportId } from "../../study/pool/pool-report.ts";
import { EXIT } from "../exit-codes.ts";
import { refreshIndex } from "../index-page.ts";
import { risingYears } from "../number-options.ts";
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
  refreshIndex(dirname(resolve(out)));
  said.done("");
  console.log(join(out, "index.html"));
  return EXIT.ok;
}
