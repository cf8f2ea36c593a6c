import { ArgumentError } from "../base/errors.ts";
import { checkObservations } from "./check-observations.ts";
import { clusteredIncidence } from "./clustered-incidence.ts";
import { clusteredSurvival } from "./clustered-survival.ts";
import { countsByTime } from "./counts-by-time.ts";
import { cumulativeIncidence } from "./cumulative-incidence.ts";
import { causeIndex } from "./event-roles.ts";
import { kaplanMeier } from "./kaplan-meier.ts";
import type { ObservationColumns, Observations } from "./observations.ts";
import type { CumulativeIncidence, IntervalScale, SurvivalCurve } from "./results.ts";

const MOST_TICKS = 2_147_483_647;

/** Who was lost, and how long each row could have been followed. */
export interface LostRows {
  /** 1 for a row lost to follow-up, else 0. Only censored rows can be lost. */
  readonly lost: ArrayLike<number>;
  /** Tick to which each row could have been followed, not before its exit. Only those of lost rows are read. */
  readonly possible: ArrayLike<number>;
}

export interface LossBoundsOptions {
  /** "net": other causes end follow-up, survival curves. "crude": other causes compete, incidence curves. */
  readonly risk: "net" | "crude";
  /** The cause that all the lost are taken to have had in the worst case. To be named wherever there are several. */
  readonly cause?: string;
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
  /** Scale on which the intervals are symmetric. Default "log-minus-log". */
  readonly scale?: IntervalScale;
  /** Years at which values are read off. Default none. */
  readonly years?: readonly number[];
}

/** One estimate under three beliefs about the lost. */
export interface ThreeCases<Curve> {
  /** As seen: the lost count as followed to the day of loss. */
  readonly estimate: Curve;
  /** Each of the lost had the event on the day of loss. */
  readonly worst: Curve;
  /** Each of the lost was followed without any event to where follow-up could have gone. */
  readonly best: Curve;
}

export type LossBounds = {
  readonly kind: "lossBounds";
  readonly cause: string;
  readonly groups: readonly { readonly group: string; readonly rows: number; readonly lost: number }[];
} & (
  | ({ readonly risk: "net" } & ThreeCases<SurvivalCurve>)
  | ({ readonly risk: "crude" } & ThreeCases<CumulativeIncidence>)
);

/**
 * How far those lost to follow-up could move the answer, whatever happened to them.
 *
 * Three curves with their intervals: as seen; with an event on the day of loss for all who were lost; and with all of them
 * followed event-free to the possible end. Net survival always lies between the other two. Crude incidence does up to
 * the first possible end of a lost row; after it the best case may pass above the estimate, because those who then stay
 * behind have outlived the competing causes. Truth lies between only if the possible ends are right. Crude curves are those
 * of the cause alone. Conventions as in `kaplanMeier` and `cumulativeIncidence`; with clusters or sampling weights the
 * variance is that of `clusteredSurvival` and `clusteredIncidence`. Year values stop where each curve's drawing stops.
 *
 * @throws ArgumentError for a lost row with an event, with a later piece of its case, or with an end before its exit.
 *
 * @example
 * lossBounds(
 *   { exit: [1, 2, 3, 4], event: [1, 0, 1, 0] },
 *   { lost: [0, 1, 0, 0], possible: [1, 4, 3, 4] },
 *   { risk: "net" },
 * ).groups[0]; // 1 of 4 lost
 */
export function lossBounds(
  columns: ObservationColumns,
  lostRows: LostRows,
  options: LossBoundsOptions,
): LossBounds {
  const observations = checkObservations(columns);
  const { risk, cause = onlyCause(observations.causes) } = options;
  if (risk !== "net" && risk !== "crude")
    throw new ArgumentError('lossBounds: risk must be "net" or "crude"');
  const code = causeIndex("lossBounds", observations.causes, cause) + 1;
  const places = lostPlaces(observations, lostRows);
  const worst = { ...observations, event: observations.event.slice() };
  const best = { ...observations, exit: observations.exit.slice() };
  for (const row of places) {
    worst.event[row] = code;
    best.exit[row] = lostRows.possible[row] ?? 0;
  }
  const all = { estimate: observations, worst: checkObservations(worst), best: checkObservations(best) };
  const head = { kind: "lossBounds", cause, groups: lostByGroup(observations, places) } as const;
  return risk === "net"
    ? { ...head, risk, ...threeCases(all, (rows) => netCurve(rows, cause, options)) }
    : { ...head, risk, ...threeCases(all, (rows) => crudeCurve(rows, cause, options)) };
}

function onlyCause(causes: readonly string[]): string {
  const [cause] = causes;
  if (cause !== undefined && causes.length === 1) return cause;
  throw new ArgumentError(`lossBounds: name the cause asked about; the causes are ${causes.join(", ")}`);
}

function lostPlaces(observations: Observations, { lost, possible }: LostRows): number[] {
  const { rows, exit, event } = observations;
  for (const [name, column] of Object.entries({ lost, possible })) {
    if (column.length !== rows)
      throw new ArgumentError(`lossBounds: ${name} has ${column.length} elements and exit has ${rows}`);
  }
  const lastExit = lastExits(observations);
  const places: number[] = [];
  for (let row = 0; row < rows; row += 1) {
    const where = `lossBounds: row ${row + 1}`;
    if (lost[row] !== 0 && lost[row] !== 1) throw new ArgumentError(`${where}, lost: must be 0 or 1`);
    if (lost[row] === 0) continue;
    if (event[row] !== 0)
      throw new ArgumentError(`${where}: a row with an event is not lost; mark only censored rows`);
    if (lastExit(row) !== exit[row])
      throw new ArgumentError(`${where}: its case goes on in another row; mark the last piece of a case`);
    const end = possible[row] ?? Number.NaN;
    if (!Number.isInteger(end) || end < (exit[row] ?? 0) || end > MOST_TICKS)
      throw new ArgumentError(`${where}, possible: must be a whole tick not before the row's exit`);
    places.push(row);
  }
  return places;
}

/** Where the last piece of a row's case ends. */
function lastExits({ caseId, exit }: Observations): (row: number) => number | undefined {
  if (caseId === undefined) return (row) => exit[row];
  const last = new Map<number, number>();
  caseId.forEach((id, row) => {
    last.set(id, Math.max(last.get(id) ?? 0, exit[row] ?? 0));
  });
  return (row) => last.get(caseId[row] ?? -1);
}

function lostByGroup({ group }: Observations, places: readonly number[]): LossBounds["groups"] {
  const rows = group.labels.map(() => 0);
  const lost = group.labels.map(() => 0);
  for (const code of group.codes) rows[code]! += 1;
  for (const row of places) lost[group.codes[row] ?? 0]! += 1;
  return group.labels.map((label, at) => ({ group: label, rows: rows[at] ?? 0, lost: lost[at] ?? 0 }));
}

function threeCases<Curve>(
  { estimate, worst, best }: ThreeCases<Observations>,
  curve: (rows: Observations) => Curve,
): ThreeCases<Curve> {
  return { estimate: curve(estimate), worst: curve(worst), best: curve(best) };
}

function netCurve(rows: Observations, cause: string, options: LossBoundsOptions): SurvivalCurve {
  const { level, scale, years } = options;
  const settings = {
    event: [cause],
    ...(level !== undefined && { level }),
    ...(scale && { scale }),
    ...(years && { years }),
  };
  return needsRows(rows) ? clusteredSurvival(rows, settings) : kaplanMeier(countsByTime(rows), settings);
}

function crudeCurve(rows: Observations, cause: string, options: LossBoundsOptions): CumulativeIncidence {
  const { level, scale, years } = options;
  const settings = {
    ...(level !== undefined && { level }),
    ...(scale && { scale }),
    ...(years && { years }),
  };
  const all = needsRows(rows)
    ? clusteredIncidence(rows, settings)
    : cumulativeIncidence(countsByTime(rows), settings);
  return { ...all, curves: all.curves.filter((curve) => curve.cause === cause) };
}

function needsRows({ cluster, weight }: Observations): boolean {
  return cluster !== undefined || weight?.kind === "sampling";
}
