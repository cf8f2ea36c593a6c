import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { type TimeUnit, tickOfYear } from "../base/time-unit.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import { type DifferenceContrast, differenceContrast } from "../survival/contrast.ts";
import { type Reference, referenceFor } from "../survival/few-clusters.ts";
import type { Clusters, ObservationColumns } from "../survival/observations.ts";
import { hazardAt, hazardShares } from "./cox-hazard-shares.ts";
import type { CoxFit } from "./cox-result.ts";
import { type CoxState, coxState } from "./cox-state.ts";
import { firstPieces } from "./first-pieces.ts";
import { type Influence, influenceVariance, smallSampleOf } from "./influence-variance.ts";
import type { ModelMatrix } from "./model-matrix.ts";
import { namedTerm, requireNoInteraction } from "./named-term.ts";
import { beyond } from "./predicted-curves.ts";

export interface StandardisedCurvesOptions {
  /**
   * The model matrix as it would be if every row were in the group: built from the same rows and terms. `asIfInGroup` makes
   * them for a category without interactions. Differences are taken from the first group.
   */
  readonly groups: readonly { readonly label: string; readonly matrix: ModelMatrix }[];
  readonly years: readonly number[];
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
  /** The second cluster of the fit, where it had one. */
  readonly secondCluster?: Clusters;
}

/** Net risk averaged over the cohort, were everybody in one group. */
export interface StandardisedRisk {
  readonly group: string;
  readonly risk: number;
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
}

export interface StandardisedYear {
  readonly year: number;
  readonly tick: number;
  readonly risks: readonly StandardisedRisk[];
  /** Of each later group less the first. */
  readonly differences: readonly Answer<
    DifferenceContrast & {
      readonly groups: readonly [string, string];
      /** Of the t that limits and p refer to; null means normal. */
      readonly degreesOfFreedom: number | null;
    }
  >[];
}

export interface StandardisedCurves {
  readonly kind: "standardisedCurves";
  readonly settings: {
    readonly level: number;
    readonly clusteredBy: readonly string[];
    readonly degreesOfFreedom: number | null;
    readonly smallSample: CoxFit["settings"]["smallSample"];
    /** Rows averaged over: each case once. */
    readonly rows: number;
  };
  readonly timeUnit: TimeUnit;
  readonly years: readonly Answer<StandardisedYear>[];
}

/**
 * The net risk by stated years if the whole cohort were in one group, by a fit: absolute differences beside a ratio.
 *
 * Each row's risk 1 − exp(−baseline of its stratum · its ratio in the group) is averaged, a case cut in rows counting once, as
 * its first piece. Weights weigh the average. The standard error is that of influence: of the coefficients, of the baseline and
 * of who is in the cohort together, summed by row, by case, or by the clusters of the fit, and corrected for few clusters as
 * the fit is: "clusters" multiplies the variance by G / (G − 1); "shares" corrects each cluster's score and so its influence
 * through the coefficients, leaves its influence on the baseline and on the average as it is, and refers differences to t on the
 * degrees of freedom of their part along the coefficients. Limits are symmetric on the plain scale for differences, and on
 * the log-minus-log scale for risks. Other causes end follow-up: net risk.
 *
 * Source: Gail and Byar 1986; influence as in Reid and Crépeau 1985.
 */
export function standardisedCurves(
  observations: ObservationColumns,
  matrix: ModelMatrix,
  fit: CoxFit,
  options: StandardisedCurvesOptions,
): Answer<StandardisedCurves> {
  const { groups, years, level = 0.95, secondCluster } = options;
  requireLevel("standardisedCurves", level);
  if (groups.length === 0) throw new ArgumentError("standardisedCurves: groups must name at least one group");
  for (const group of groups) checkGroup(matrix, group);
  const set = coxState("standardisedCurves", observations, matrix, fit);
  if (!set.computed) return set;
  const { state } = set;
  const average = averageWeights(state);
  const { variance } = fit.settings;
  const smallSample = smallSampleOf(fit.settings);
  const clustered = variance === "clustered";
  const spreadOf = influenceVariance(state, { variance, smallSample }, secondCluster);
  const sides = groups.map(({ label, matrix: own }) => ({ label, x: columnsOf(state, own) }));
  const { units } = spreadOf({ held: new Float64Array(state.rows.count), byScore: [] });
  const reference = referenceFor(clustered ? units : null, level);
  if (reference === undefined) return notComputed("too-few-clusters", "one cluster holds every row");
  const { exit, timeUnit } = state.rows.observations;
  const followedTo = state.rows.row.reduce((last, row) => Math.max(last, exit[row]!), 0);
  return computed({
    kind: "standardisedCurves",
    settings: {
      level,
      clusteredBy: clustered ? fit.settings.clusteredBy : [],
      degreesOfFreedom: reference.degreesOfFreedom,
      smallSample,
      rows: average.reduce((count, weight) => count + (weight > 0 ? 1 : 0), 0),
    },
    timeUnit,
    years: years.map((year) => {
      const tick = tickOfYear(year, timeUnit);
      if (tick > followedTo) return beyond(year);
      const risks = sides.map(({ label, x }) => ({ label, ...riskAt(state, x, tick, average) }));
      return computed(
        yearOf(year, tick, risks, reference, (influence) => {
          const { variance, freedom } = spreadOf(influence);
          const standardError = Math.sqrt(variance);
          return {
            standardError,
            own: freedom === undefined ? reference : referenceFor(units, level, freedom),
          };
        }),
      );
    }),
  });
}

/** The matrices of `standardisedCurves` for a category: as it is, but for the columns of the term. */
export function asIfInGroup(
  matrix: ModelMatrix,
  term: string,
): readonly { readonly label: string; readonly matrix: ModelMatrix }[] {
  const found = namedTerm("asIfInGroup", matrix, term);
  if (found.kind !== "category") throw new ArgumentError(`asIfInGroup: "${term}" is no category`);
  requireNoInteraction("asIfInGroup", matrix, term);
  const own = Array.from({ length: found.columns }, (_, k) => found.from + k);
  const withColumn = (chosen: number | undefined): ModelMatrix => ({
    ...matrix,
    columns: matrix.columns.map((column, at) =>
      own.includes(at)
        ? { ...column, values: new Float64Array(column.values.length).fill(at === chosen ? 1 : 0) }
        : column,
    ),
  });
  return [
    { label: found.reference ?? "reference", matrix: withColumn(undefined) },
    ...own.map((column) => ({ label: matrix.columns[column]!.name, matrix: withColumn(column) })),
  ];
}

function checkGroup(
  matrix: ModelMatrix,
  { label, matrix: own }: { label: string; matrix: ModelMatrix },
): void {
  const same =
    own.rows.length === matrix.rows.length &&
    own.rows.every((row, at) => row === matrix.rows[at]) &&
    own.columns.length === matrix.columns.length &&
    own.columns.every(({ name }, at) => name === matrix.columns[at]!.name);
  if (same) return;
  throw new ArgumentError(
    `standardisedCurves: the matrix of group "${label}" has other rows or columns; build it from the same rows and terms`,
  );
}

/** Columns of a group's matrix, centred and scaled as those of the fit. */
function columnsOf({ rows, columns }: CoxState, matrix: ModelMatrix): Float64Array[] {
  return columns.map(({ name, centre, scale }) => {
    const { values } = matrix.columns.find((column) => column.name === name)!;
    return Float64Array.from(rows.place, (at) => (values[at]! - centre) / scale);
  });
}

/** Each row's share of the average: its weight over all weights; 0 for a later piece of a case. */
function averageWeights({ rows }: CoxState): Float64Array {
  const isFirst = firstPieces(rows.observations, rows.row);
  const weights = Float64Array.from(isFirst, (first, i) => (first === 1 ? (rows.weight?.[i] ?? 1) : 0));
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.map((weight) => weight / all);
}

interface GroupRisk {
  readonly risk: number;
  readonly influence: Influence;
}

function riskAt(state: CoxState, x: readonly Float64Array[], tick: number, average: Float64Array): GroupRisk {
  const { rows, beta, inverse } = state;
  const { codes, labels } = rows.observations.stratum;
  const at = hazardAt(state, tick);
  const own = new Float64Array(rows.count);
  // d risk / d hazard by stratum, and d risk / d coefficient with the baseline's own change.
  const byHazard = new Float64Array(labels.length);
  const slope = new Float64Array(beta.length);
  let risk = 0;
  for (let i = 0; i < rows.count; i += 1) {
    if (average[i] === 0) continue;
    const stratum = codes[rows.row[i]!]!;
    let predictor = 0;
    for (let j = 0; j < beta.length; j += 1) predictor += beta[j]! * x[j]![i]!;
    const ratio = Math.exp(predictor);
    const hazard = at.hazard[stratum]! * ratio;
    own[i] = -Math.expm1(-hazard);
    risk += average[i]! * own[i]!;
    const steep = average[i]! * Math.exp(-hazard) * ratio;
    byHazard[stratum]! += steep;
    for (let j = 0; j < beta.length; j += 1) {
      slope[j]! += steep * (x[j]![i]! * at.hazard[stratum]! - at.pull[j]![stratum]!);
    }
  }
  const byScore = inverse.map((line) => line.reduce((sum, v, k) => sum + v * slope[k]!, 0));
  const held = hazardShares(rows, state, at).map(
    (share, i) => byHazard[codes[rows.row[i]!]!]! * share + average[i]! * (own[i]! - risk),
  );
  return { risk, influence: { held, byScore } };
}

function yearOf(
  year: number,
  tick: number,
  risks: readonly (GroupRisk & { readonly label: string })[],
  reference: Reference,
  spreadOf: (influence: Influence) => {
    readonly standardError: number;
    readonly own: Reference | undefined;
  },
): StandardisedYear {
  const [first] = risks;
  return {
    year,
    tick,
    risks: risks.map(({ label, risk, influence }) => {
      const { standardError } = spreadOf(influence);
      return { group: label, risk, standardError, ...riskLimits(risk, standardError, reference) };
    }),
    differences: risks.slice(1).map(({ label, risk, influence }) => {
      const { standardError, own } = spreadOf(less(influence, first!.influence));
      if (own === undefined || !(standardError > 0)) {
        return notComputed("no-spread", "the units leave no spread in the difference");
      }
      return computed({
        groups: [label, first!.label] as const,
        ...differenceContrast(risk, first!.risk, standardError, own),
        degreesOfFreedom: own.degreesOfFreedom,
      });
    }),
  };
}

function less(one: Influence, other: Influence): Influence {
  return {
    held: one.held.map((own, i) => own - other.held[i]!),
    byScore: one.byScore.map((own, j) => own - other.byScore[j]!),
  };
}

/** On the scale log(−log(1 − risk)); a risk of 0 or 1 has no spread there. */
function riskLimits(risk: number, standardError: number, { quantile }: Reference) {
  const hazard = -Math.log1p(-risk);
  if (!(hazard > 0 && Number.isFinite(hazard) && standardError > 0)) return { lower: risk, upper: risk };
  const factor = Math.exp((quantile * standardError) / ((1 - risk) * hazard));
  return { lower: -Math.expm1(-hazard / factor), upper: -Math.expm1(-hazard * factor) };
}
