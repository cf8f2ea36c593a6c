import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { checkObservations } from "../survival/check-observations.ts";
import type { ObservationColumns } from "../survival/observations.ts";
import { type AverageOptions, averageFit } from "./average-fit.ts";
import { coxRegression } from "./cox-regression.ts";
import type { CoxColumn, CoxFit, ModelTest } from "./cox-result.ts";
import { groundOfColumns, quadraticTest } from "./cox-tests.ts";
import { type CutRows, cutRows } from "./cut-rows.ts";
import type { ModelColumn, ModelMatrix, ModelTerm } from "./model-matrix.ts";
import { namedTerm, requireNoInteraction } from "./named-term.ts";

export interface PeriodOptions extends AverageOptions {
  /** The term whose ratios are asked for by period. */
  readonly term: string;
  /** Ticks at which periods end, ascending; the last period has no end. */
  readonly cuts: readonly number[];
}

export interface PeriodRatios {
  /** (after, upTo]; −1 means from before tick 0, null no end. */
  readonly after: number;
  readonly upTo: number | null;
  /** Rows with an event in the period; copies counted once. */
  readonly events: number;
  readonly columns: readonly CoxColumn[];
}

export interface HazardRatiosByPeriod {
  readonly kind: "hazardRatiosByPeriod";
  readonly term: string;
  /** The ratios of the term over all follow-up: to be shown beside those of the periods. */
  readonly average: readonly CoxColumn[];
  readonly periods: readonly PeriodRatios[];
  /** Wald test of equal ratios in all periods, with the variance of the fit. */
  readonly change: Answer<ModelTest>;
  readonly fits: { readonly average: CoxFit; readonly byPeriod: CoxFit };
}

/**
 * The hazard ratios of one term in declared periods, with the average beside them and a test of change.
 *
 * Rows are cut where periods end, and the term has a coefficient in each; the others have one for all follow-up. Periods
 * share the baseline of their stratum. Pieces of a row count as one in robust variances; clusters stay as they are. A period
 * in which the term is separated or does not vary says so, and leaves no test of change.
 *
 * @throws ArgumentError for an unknown term, one that is part of an interaction, and cuts that do not ascend.
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(1, 0, 1, 0, 1, 0), missing: new Uint8Array(6), missingReasons: [] } as const;
 * const matrix = modelMatrix([x], [numberTerm("x")]);
 * const rows = { exit: [1, 2, 3, 4, 5, 6], event: [1, 0, 1, 1, 0, 1] };
 * hazardRatiosByPeriod(rows, matrix, { term: "x", cuts: [3] }); // 2.562 on average; of either period alone "not estimable: separation"
 */
export function hazardRatiosByPeriod(
  data: ObservationColumns,
  matrix: ModelMatrix,
  options: PeriodOptions,
): Answer<HazardRatiosByPeriod> {
  const { term, cuts, average: known, ...fitOptions } = options;
  const found = namedTerm("hazardRatiosByPeriod", matrix, term);
  requireNoInteraction("hazardRatiosByPeriod", matrix, term);
  requireAscending(cuts);
  const observations = checkObservations(data);
  const average = averageFit("hazardRatiosByPeriod", observations, matrix, {
    ...fitOptions,
    ...(known && { average: known }),
  });
  if (!average.computed) return average;
  const cut = cutRows(observations, matrix, cuts);
  const second = fitOptions.secondCluster;
  const cutFit = coxRegression(cut.columns, matrixByPeriod(matrix, found, cut, cuts), {
    ...fitOptions,
    ...(second && {
      secondCluster: { ...second, codes: Array.from(cut.place, (at) => second.codes[matrix.rows[at]!]!) },
    }),
  });
  if (!cutFit.computed) return cutFit;
  const byPeriod = asGiven(cutFit, average);
  const { from, columns: width } = found;
  const shown = byPeriod.columns.slice(from, from + width * (cuts.length + 1));
  const events = eventsByWindow(cut, cuts.length + 1, byPeriod, observations.causes);
  return computed({
    kind: "hazardRatiosByPeriod",
    term,
    average: average.columns.slice(from, from + width),
    periods: events.map((count, window) => ({
      after: cuts[window - 1] ?? -1,
      upTo: cuts[window] ?? null,
      events: count,
      columns: shown.slice(window * width, (window + 1) * width),
    })),
    change: changeTest(byPeriod, shown, width),
    fits: { average, byPeriod },
  });
}

/** Windows are strata for the sake of speed: a reader is told the strata and entries of the rows as they were given. */
function asGiven(fit: CoxFit, { strata, strataWithoutEvents, settings }: CoxFit): CoxFit {
  const { stratified, delayedEntry } = settings;
  return { ...fit, strata, strataWithoutEvents, settings: { ...fit.settings, stratified, delayedEntry } };
}

function requireAscending(cuts: readonly number[]): void {
  const isRight =
    cuts.length > 0 && cuts.every((cut, at) => Number.isSafeInteger(cut) && cut > (cuts[at - 1] ?? -1));
  if (isRight) return;
  throw new ArgumentError(
    "hazardRatiosByPeriod: cuts must be whole ticks from 0 up, ascending, at least one",
  );
}

/** The term's columns once for each window, 0 outside it; all other columns as they were. */
function matrixByPeriod(
  matrix: ModelMatrix,
  { name, from, columns: width }: ModelTerm,
  { place, window }: CutRows,
  cuts: readonly number[],
): ModelMatrix {
  const labelOf = (own: number) => {
    const [after, upTo] = [cuts[own - 1], cuts[own]];
    if (after === undefined) return `to tick ${upTo}`;
    return upTo === undefined ? `after tick ${after}` : `ticks ${after} to ${upTo}`;
  };
  const gathered = ({ name, values }: ModelColumn): ModelColumn => {
    const taken = new Float64Array(place.length);
    // Places are rows of the matrix.
    for (let piece = 0; piece < taken.length; piece += 1) taken[piece] = values[place[piece]!]!;
    return { name, values: taken };
  };
  const within = (column: ModelColumn, own: number): ModelColumn => {
    const { values } = gathered(column);
    for (let piece = 0; piece < values.length; piece += 1) if (window[piece] !== own) values[piece] = 0;
    return { name: `${column.name}, ${labelOf(own)}`, values };
  };
  const asked = matrix.columns.slice(from, from + width);
  const windows = Array.from({ length: cuts.length + 1 }, (_, own) => own);
  const added = width * cuts.length;
  return {
    rows: Int32Array.from(place.keys()),
    columns: [
      ...matrix.columns.slice(0, from).map(gathered),
      ...windows.flatMap((own) => asked.map((column) => within(column, own))),
      ...matrix.columns.slice(from + width).map(gathered),
    ],
    terms: matrix.terms.map((term) => {
      if (term.name === name) return { name, kind: "period", from, columns: width + added };
      return term.from > from ? { ...term, from: term.from + added } : term;
    }),
    lost: matrix.lost,
  };
}

function eventsByWindow(
  { columns, window }: CutRows,
  windows: number,
  { settings }: CoxFit,
  causes: readonly string[],
): number[] {
  const counts = new Array<number>(windows).fill(0);
  const isCounted = [false, ...causes.map((cause) => settings.event.includes(cause))];
  for (let piece = 0; piece < window.length; piece += 1) {
    if (isCounted[columns.event[piece]!]) counts[window[piece]!]! += 1;
  }
  return counts;
}

function changeTest(fit: CoxFit, shown: readonly CoxColumn[], width: number): Answer<ModelTest> {
  const places = shown.map(({ column }) => fit.estimated.indexOf(column));
  if (places.some((at) => at < 0)) {
    return notComputed(
      "not-estimable",
      "a ratio of some period is not estimable, so change cannot be tested",
    );
  }
  const ratios = shown.map(({ hazardRatio }) => (hazardRatio.computed ? hazardRatio.logRatio : 0));
  // Each later period less the first, column by column.
  const later = shown.slice(width).map((_, at) => ({ here: at + width, first: at % width }));
  const covariance = (a: number, b: number) => fit.covariance[places[a]!]![places[b]!]!;
  return quadraticTest(
    later.map(({ here, first }) => ratios[here]! - ratios[first]!),
    later.map((one) =>
      later.map(
        (other) =>
          covariance(one.here, other.here) -
          covariance(one.here, other.first) -
          covariance(one.first, other.here) +
          covariance(one.first, other.first),
      ),
    ),
    groundOfColumns(fit.settings, shown),
  );
}
