import type { Answer } from "../../base/answer.ts";
import { yearsOfTicks } from "../../base/time-unit.ts";
import type { Cell, Count, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { CoxColumn } from "../../regression/cox-result.ts";
import type { HazardRatiosByPeriod, PeriodRatios } from "../../regression/hazard-ratios-by-period.ts";
import { keys, limitsCell, noCell, sized, textCell } from "../cells.ts";
import type { Adjusted, AdjustedModel, GroupSize } from "../estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { firstOver } from "../first-over.ts";
import { clusterWords, levelWords, periodWords } from "../words.ts";

/** Ratios of the first group over each other one: over all years and by period, alone and adjusted. */
export function hazardRatiosExhibit(
  { alone, adjusted, groupTerm }: Adjusted,
  sizes: readonly GroupSize[],
  facts: StudyFacts,
): TableExhibit {
  const models = [alone, ...(facts.plan.adjusters === undefined ? [] : [adjusted])];
  const level = `${levelWords(facts.level)} interval`;
  return {
    kind: "table",
    id: "hazard-ratios",
    title: `Hazard ratios of ${facts.words.event.many} for ${facts.cause}`,
    columns: [
      { id: "years", label: "Groups and years" },
      { id: "alone", label: `Groups alone (${level})`, align: "end" as const },
      ...(models.length === 1
        ? []
        : [{ id: "adjusted", label: `Adjusted (${level})`, align: "end" as const }]),
    ],
    rows: facts.groups.slice(1).flatMap((other, at) => {
      const pair = { other: at + 1, sizes, facts, groupTerm };
      return [
        { label: `${facts.groups[0]} over ${other}`, heading: true, cells: [] },
        averageRow(models, pair),
        ...periodRows(models, pair),
        changeRow(models, pair),
      ];
    }),
    notes: [
      `Cox regression of the cause asked about; the others end observation. Same-day rule: Efron. Intervals: ${clusterWords(facts)}. A hazard ratio of 1 means that both are alike.`,
    ],
    picture: "ratios",
    settings: settingsOf(models),
  };
}

interface Pair {
  readonly other: number;
  readonly sizes: readonly GroupSize[];
  readonly facts: StudyFacts;
  readonly groupTerm: string;
}

type Models = readonly Answer<AdjustedModel>[];

function averageRow(models: Models, pair: Pair): TableRow {
  const restsOn = both(pair, (size) => sized(keys.events(pair.facts.cause, size.label), size.events));
  return {
    label: "all years",
    indent: 1,
    cells: models.map((model) =>
      model.computed ? ratioCell(model.fit.columns, pair, restsOn) : noCell(model),
    ),
  };
}

function periodRows(models: Models, pair: Pair): TableRow[] {
  const periods = models.flatMap((model) =>
    model.computed && model.byPeriod.computed ? [model.byPeriod.periods] : [],
  )[0];
  return (periods ?? []).map(({ after, upTo }, at) => {
    const restsOn = both(pair, (size) =>
      sized(keys.eventsInPeriod(pair.facts.cause, size.label, at), size.eventsByPeriod[at] ?? size.events),
    );
    return {
      label: periodLabel(after, upTo, pair.facts),
      indent: 1,
      cells: models.map((model) => periodCell(model, at, pair, restsOn)),
    };
  });
}

function periodCell(model: Answer<AdjustedModel>, at: number, pair: Pair, restsOn: readonly Count[]): Cell {
  if (!model.computed) return noCell(model);
  if (!model.byPeriod.computed) return noCell(model.byPeriod);
  const period: PeriodRatios | undefined = model.byPeriod.periods[at];
  return period === undefined ? textCell("") : ratioCell(period.columns, pair, restsOn);
}

function changeRow(models: Models, pair: Pair): TableRow {
  const restsOn = both(pair, (size) => sized(keys.events(pair.facts.cause, size.label), size.events));
  return {
    label: "change between periods, p",
    indent: 1,
    cells: models.map((model): Cell => {
      if (!model.computed) return noCell(model);
      const byPeriod: Answer<HazardRatiosByPeriod> = model.byPeriod;
      if (!byPeriod.computed) return noCell(byPeriod);
      if (byPeriod.periods.length < 2) return textCell("one period");
      return byPeriod.change.computed
        ? { kind: "pValue", p: byPeriod.change.p, restsOn }
        : noCell(byPeriod.change);
    }),
  };
}

function ratioCell(
  columns: readonly CoxColumn[],
  { other, facts, groupTerm }: Pair,
  restsOn: readonly Count[],
): Cell {
  const ratio = firstOver(columns, groupTerm, facts.groups, other);
  return ratio.computed ? limitsCell([ratio.ratio, ratio.lower, ratio.upper], 2, restsOn) : noCell(ratio);
}

function both({ other, sizes }: Pair, count: (size: GroupSize) => Count): Count[] {
  return [0, other].flatMap((group) => {
    const size = sizes[group];
    return size === undefined ? [] : [count(size), sized(keys.group(size.label), size)];
  });
}

function periodLabel(after: number, upTo: number | null, { timeUnit }: StudyFacts): string {
  const years = (tick: number) => Math.round(100 * yearsOfTicks(tick, timeUnit)) / 100;
  return periodWords(after < 0 ? 0 : years(after), upTo === null ? null : years(upTo));
}

function settingsOf(models: Models): Readonly<Record<string, unknown>> {
  const fit = models.find((model) => model.computed)?.fit;
  if (fit === undefined) return {};
  const { clusters: _clusters, degreesOfFreedom: _freedom, ...rest } = fit.settings;
  return rest;
}
