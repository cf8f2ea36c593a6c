import type { Cleared, ClearedCurves, ClearedExhibit, ClearedExhibits } from "../../disclosure/cleared.ts";
import { clearedJson } from "../../disclosure/cleared-json.ts";
import { amountFigure } from "../../figures/amount-figure.ts";
import { barFigure } from "../../figures/bar-figure.ts";
import { curveFigure } from "../../figures/curve-figure.ts";
import { differenceFigure } from "../../figures/difference-figure.ts";
import type { FigureOptions } from "../../figures/figure-frame.ts";
import { flowFigure } from "../../figures/flow-figure.ts";
import { lineFigure } from "../../figures/line-figure.ts";
import { pairFigure } from "../../figures/pair-figure.ts";
import { ratioFigure } from "../../figures/ratio-figure.ts";
import { shareFigure } from "../../figures/share-figure.ts";
import { stackFigure } from "../../figures/stack-figure.ts";
import type { Figure, ReportPage } from "../../report/block.ts";
import { curveTable } from "../../report/curve-table.ts";
import { flowTable } from "../../report/flow-table.ts";
import { lineTable } from "../../report/line-table.ts";
import { renderReport } from "../../report/render-report.ts";
import { tableCsv } from "../../report/table-csv.ts";
import type { StudyFacts } from "../facts.ts";
import type { StudyRun } from "../run.ts";
import { findings } from "../sections/findings.ts";
import { RISK_PAIR } from "../sections/risk-pair.ts";
import { reportPage } from "./report-page.ts";
import { clearedView } from "./view.ts";

/** Path inside the report folder → text. */
export type ReportFiles = ReadonlyMap<string, string>;

/** The report of a run for the audience it was cleared for: one page, results, figures and tables. */
export function reportFiles(run: StudyRun, cleared: ClearedExhibits): ReportFiles {
  const { facts } = run;
  const view = clearedView(cleared);
  const figures = drawFigures(cleared, facts.stamp, findings(view, facts));
  const page = reportPage(facts, view, figures, run.study.sections);
  return new Map([
    ["index.html", renderReport(page)],
    ["results.json", `${JSON.stringify(results(run, page, cleared), null, 1)}\n`],
    ...[...figures.values()].map(({ fileName, svg }): [string, string] => [`figures/${fileName}`, svg]),
    ...tables(cleared, facts.stamp),
  ]);
}

const TABLE_FIGURES = {
  ratios: ratioFigure,
  differences: differenceFigure,
  shares: shareFigure,
  bars: barFigure,
  amounts: amountFigure,
  stacks: stackFigure,
} as const;

export function drawFigures(
  cleared: ClearedExhibits,
  stamp: string | undefined,
  found: ReadonlyMap<string, string> = new Map(),
): ReadonlyMap<string, Figure> {
  const options = stamp === undefined ? {} : { stamp };
  const figures = new Map<string, Figure>();
  for (const exhibit of cleared.exhibits) {
    const finding = found.get(exhibit.id);
    const named = finding === undefined ? {} : { finding };
    const figure = drawn(exhibit, { ...options, ...named });
    if (figure !== undefined) figures.set(exhibit.id, { ...figure, ...named });
  }
  const beside = riskPair(cleared, options);
  if (beside !== undefined) figures.set(RISK_PAIR.id, beside);
  return figures;
}

function drawn(exhibit: Cleared<ClearedExhibit>, options: FigureOptions): Figure | undefined {
  switch (exhibit.kind) {
    case "curves":
      return curveFigure(exhibit, options);
    case "flow":
      return flowFigure(exhibit, options);
    case "lines":
      return lineFigure(exhibit, options);
    case "table":
      return exhibit.picture === undefined ? undefined : TABLE_FIGURES[exhibit.picture](exhibit, options);
  }
}

function riskPair({ exhibits }: ClearedExhibits, options: FigureOptions): Figure | undefined {
  const [crude, net] = ["crude-risk", "net-risk"].map((id) =>
    exhibits.find(
      (exhibit): exhibit is Cleared<ClearedCurves> => exhibit.kind === "curves" && exhibit.id === id,
    ),
  );
  if (crude === undefined || net === undefined) return undefined;
  return pairFigure(crude, net, { ...options, ...RISK_PAIR });
}

export function tables(cleared: ClearedExhibits, stamp: string | undefined): [string, string][] {
  const note = stamp === undefined ? {} : { stamp };
  return cleared.exhibits.flatMap((exhibit): [string, string][] => {
    if (exhibit.kind === "table") return [[`tables/${exhibit.id}.csv`, tableCsv(exhibit, note)]];
    if (exhibit.kind === "curves") return [[`tables/${exhibit.id}.csv`, tableCsv(curveTable(exhibit), note)]];
    if (exhibit.kind === "lines") return [[`tables/${exhibit.id}.csv`, tableCsv(lineTable(exhibit), note)]];
    return [[`tables/${exhibit.id}.csv`, tableCsv(flowTable(exhibit), note)]];
  });
}

/** Analysts get every number; others how many surgeons there are, where that is enough of them, and no patients. */
function clustersToPrint({ clusters }: StudyFacts, { threshold, held }: ClearedExhibits) {
  if (threshold === 0) return clusters;
  const { by, reason } = clusters;
  // No number stands in a record but those that were held against the reports before.
  const isTold = by === "surgeon" && clusters.clusters >= threshold && held.length === 0;
  return { by, reason, ...(isTold ? { clusters: clusters.clusters } : {}) };
}

function results({ facts }: StudyRun, page: ReportPage, cleared: ClearedExhibits) {
  return {
    mantle: facts.mantleVersion,
    id: facts.plan.id,
    title: page.title,
    subtitle: page.subtitle,
    ...(facts.stamp === undefined ? {} : { stamp: facts.stamp }),
    question: facts.plan.question,
    hashes: facts.hashes,
    imported: facts.notebook.imported ?? [],
    plan: facts.plan,
    planLock: facts.planLock,
    settings: {
      level: facts.level,
      timeUnit: facts.timeUnit,
      clusters: clustersToPrint(facts, cleared),
      years: facts.plan.years,
      periods: facts.plan.periods,
      groups: facts.groups,
      cause: facts.cause,
      competing: facts.competing,
    },
    ...clearedJson(cleared),
  };
}
