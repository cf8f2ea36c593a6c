import { basename, resolve } from "node:path";
import { capital } from "../../base/words.ts";
import type { Audience } from "../../disclosure/audience.ts";
import type { ClearedExhibits } from "../../disclosure/cleared.ts";
import { clearedJson } from "../../disclosure/cleared-json.ts";
import { disclose } from "../../disclosure/disclose.ts";
import type { ReportPage } from "../../report/block.ts";
import { renderReport } from "../../report/render-report.ts";
import { drawFigures, type ReportFiles, tables } from "../making/report-files.ts";
import type { Figures } from "../making/section.ts";
import { clearedView } from "../making/view.ts";
import { poolCounts } from "./pool-counts.ts";
import { poolEstimate } from "./pool-estimate.ts";
import { type PoolFacts, type PoolQuestion, poolFacts } from "./pool-facts.ts";
import { POOL_SECTIONS, poolBrief } from "./sections/pool.ts";

export interface PoolReportOptions extends PoolQuestion {
  readonly audience: Audience;
  /** Name of the report's folder. */
  readonly id: string;
}

/** From counts of several sources to the files of one report: read, add, estimate, disclose, render. */
export function poolReport(paths: readonly string[], options: PoolReportOptions): ReportFiles {
  const { audience, id, ...question } = options;
  const pooled = poolCounts(paths);
  const facts = poolFacts(pooled, question);
  const estimates = poolEstimate(pooled, facts);
  const cleared = disclose(
    POOL_SECTIONS.flatMap((section) => section.exhibits(estimates, facts)),
    audience,
  );
  const figures = drawFigures(cleared, facts.stamp);
  const page = poolPage(cleared, facts, figures);
  return new Map([
    ["index.html", renderReport(page)],
    ["results.json", `${JSON.stringify(results(id, page, cleared, facts), null, 1)}\n`],
    ...[...figures.values()].map(({ fileName, svg }): [string, string] => [`figures/${fileName}`, svg]),
    ...tables(cleared, facts.stamp),
  ]);
}

/** The id of the report in a folder: the folder's own name. */
export function poolReportId(folder: string): string {
  return basename(resolve(folder));
}

function poolPage(cleared: ClearedExhibits, facts: PoolFacts, figures: Figures): ReportPage {
  const view = clearedView(cleared);
  return {
    title: `${capital(facts.cause)} by group, from counts`,
    subtitle: `${facts.exposure}; ${facts.descriptors.map(({ title }) => title).join(", ")}`,
    ...(facts.stamp === undefined ? {} : { stamp: facts.stamp }),
    brief: poolBrief(view, facts),
    sections: POOL_SECTIONS.map((section) => ({
      kind: "section" as const,
      id: section.id,
      title: section.title(facts),
      blocks: section.blocks(view, facts, figures),
    })),
    footer: [`Mantle ${facts.mantleVersion}. Audience: ${cleared.audience}. From counts; no row was seen.`],
  };
}

function results(id: string, page: ReportPage, cleared: ClearedExhibits, facts: PoolFacts) {
  return {
    mantle: facts.mantleVersion,
    id,
    title: page.title,
    subtitle: page.subtitle,
    ...(facts.stamp === undefined ? {} : { stamp: facts.stamp }),
    sources: facts.descriptors.map(({ title, source }, at) => ({ title, source, ...facts.sources[at] })),
    hashes: { lock: facts.lockHash },
    settings: {
      level: facts.level,
      timeUnit: facts.timeUnit,
      clusters: null,
      years: facts.years,
      periods: facts.periods,
      groups: facts.groups,
      strata: facts.strata,
      cause: facts.cause,
      competing: facts.competing,
      mostPerPerson: facts.mostPerPerson,
    },
    ...clearedJson(cleared),
  };
}
