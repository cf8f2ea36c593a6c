import type { Answer } from "../../base/answer.ts";
import { yearsOfTicks } from "../../base/time-unit.ts";
import { capital } from "../../base/words.ts";
import type { Cell, Count, Relation, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { CoxColumn } from "../../regression/cox-result.ts";
import type { HazardRatiosByPeriod, PeriodRatios } from "../../regression/hazard-ratios-by-period.ts";
import type { Adjusted, AdjustedModel, GroupSize, ModelRows } from "../estimates/estimates.ts";
import { firstOver } from "../estimates/first-over.ts";
import type { StudyFacts } from "../facts.ts";
import { clusterWords, levelWords, periodWords } from "../words.ts";
import { countCell, keys, limitsCell, noCell, textCell } from "./cells.ts";
import { modelCounts } from "./model-counts.ts";

/** Label of the row that tests whether the ratios of the periods differ. */
export const CHANGE_ROW = "change between periods, p";

/** Ratios of the first group over each other one: over all years and by period, alone and adjusted. */
export function hazardRatiosExhibit(
  found: Adjusted,
  compared: readonly GroupSize[],
  facts: StudyFacts,
): TableExhibit {
  const { alone, adjusted } = found;
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
    rows: [
      rowsRow(found, compared, models, facts),
      ...facts.groups.slice(1).flatMap((other, at) => {
        const pair = { other: at + 1, found, facts };
        return [
          { label: `${facts.groups[0]} over ${other}`, heading: true, cells: [] },
          averageRow(models, pair),
          ...periodRows(models, pair),
        ];
      }),
      ...(facts.groups.length > 2 ? [{ label: "All groups together", heading: true, cells: [] }] : []),
      changeRow(found, models, facts),
    ],
    notes: [
      `Cox regression of the cause asked about; the others end observation. Same-day rule: Efron. Intervals: ${clusterWords(facts)}. A hazard ratio of 1 means that both are alike.${smallSampleWords(models)}`,
      ...thinNotes(models, facts),
    ],
    relations: relationsOf(found, compared),
    picture: "ratios",
    settings: settingsOf(models),
  };
}

interface Pair {
  readonly other: number;
  readonly found: Adjusted;
  readonly facts: StudyFacts;
}

type Models = readonly Answer<AdjustedModel>[];

function averageRow(models: Models, pair: Pair): TableRow {
  const restsOn = modelCounts(pair.found.rows, pair.facts).events([0, pair.other]);
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
    const restsOn = modelCounts(pair.found.rows, pair.facts).inPeriod([0, pair.other], at);
    return {
      label: periodYears(after, upTo, pair.facts),
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

/** One test over all groups; with the average and the other periods it could give a hidden period back. */
function changeRow({ rows }: Adjusted, models: Models, facts: StudyFacts): TableRow {
  const counts = modelCounts(rows, facts);
  const groups = [...facts.groups.keys()];
  return {
    label: CHANGE_ROW,
    indent: 1,
    cells: models.map((model): Cell => {
      if (!model.computed) return noCell(model);
      const byPeriod: Answer<HazardRatiosByPeriod> = model.byPeriod;
      if (!byPeriod.computed) return noCell(byPeriod);
      const restsOn = byPeriod.periods.flatMap((_, at) => counts.inPeriod(groups, at));
      return byPeriod.change.computed
        ? { kind: "pValue", p: byPeriod.change.p, restsOn }
        : noCell(byPeriod.change, restsOn);
    }),
  };
}

/** How many rows the ratios rest on. */
function rowsRow(
  { rows, adjusted }: Adjusted,
  compared: readonly GroupSize[],
  models: Models,
  facts: StudyFacts,
): TableRow {
  const used = countCell(usedRows(rows, compared));
  return {
    label: `${capital(facts.words.unit.many)} in the model`,
    cells: models.map((_, at) => (at === 1 && !adjusted.computed ? textCell("") : used)),
  };
}

function usedRows({ sizes, isEverybody }: ModelRows, compared: readonly GroupSize[]): Count {
  const units = (isEverybody ? compared : sizes).reduce((sum, size) => sum + size.units, 0);
  return { key: isEverybody ? COMPARED : keys.inModel(COMPARED), units };
}

const COMPARED = "flow/compared";

/** Everybody compared is in the model or left out of it. */
function relationsOf({ rows }: Adjusted, compared: readonly GroupSize[]): Relation[] {
  if (rows.isEverybody) return [];
  const all = compared.reduce((sum, size) => sum + size.units, 0);
  const used = usedRows(rows, compared);
  return [
    {
      total: { key: COMPARED, units: all },
      parts: [used, { key: "in-model/left-out", units: all - used.units }],
    },
  ];
}

function smallSampleWords(models: Models): string {
  const isWidened = models.some((model) => model.computed && model.fit.settings.smallSample === "shares");
  return isWidened
    ? " Each cluster's score is corrected for its own part of the information; t on the degrees of freedom that the parts leave (Satterthwaite)."
    : "";
}

/** Few events for each coefficient is a property of the model that every reader must know. */
function thinNotes(models: Models, { words }: StudyFacts): string[] {
  const isThin = models.some((model) => model.computed && model.fit.eventsPerParameter < ENOUGH_EVENTS);
  return isThin
    ? [
        `There are few ${words.event.many} for each coefficient: ratios tend to lie too far from 1, and limits too close together.`,
      ]
    : [];
}

/** Common practice, no source: ten events for each coefficient. */
const ENOUGH_EVENTS = 10;

function ratioCell(
  columns: readonly CoxColumn[],
  { other, facts, found }: Pair,
  restsOn: readonly Count[],
): Cell {
  const ratio = firstOver(columns, found.groupTerm, facts.groups, other);
  return ratio.computed
    ? limitsCell([ratio.ratio, ratio.lower, ratio.upper], 2, restsOn)
    : noCell(ratio, restsOn);
}

/** The words for a period of the models, whose ends are ticks. */
export function periodYears(after: number, upTo: number | null, { timeUnit }: StudyFacts): string {
  const years = (tick: number) => Math.round(100 * yearsOfTicks(tick, timeUnit)) / 100;
  return periodWords(after < 0 ? 0 : years(after), upTo === null ? null : years(upTo));
}

function settingsOf(models: Models): Readonly<Record<string, unknown>> {
  const fit = models.find((model) => model.computed)?.fit;
  if (fit === undefined) return {};
  const { clusters: _clusters, degreesOfFreedom: _freedom, ...rest } = fit.settings;
  return rest;
}
