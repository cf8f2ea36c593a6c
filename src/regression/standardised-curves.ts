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
import { relativeHazards } from "./cox-sums.ts";
import { firstPieces } from "./first-pieces.ts";
import { type Influence, influenceVariance, smallSampleOf } from "./influence-variance.ts";
import { productSum } from "./linear-predictor.ts";
import type { ModelMatrix } from "./model-matrix.ts";
import { namedTerm, requireNoInteraction } from "./named-term.ts";
import { beyond } from "./predicted-curves.ts";
import { checkGroup, columnsInGroups } from "./standardised-groups.ts";

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
  const inGroup = columnsInGroups(state, matrix);
  const sides = groups.map(({ label, matrix: own }): Side => {
    const x = inGroup(own);
    return { label, x, ratio: relativeHazards({ count: state.rows.count }, x, state.beta) };
  });
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
      const risks = sides.map((side) => ({ label: side.label, ...riskAt(state, side, tick, average) }));
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

/** Each row's share of the average: its weight over all weights; 0 for a later piece of a case. */
function averageWeights({ rows }: CoxState): Float64Array {
  const weights = Float64Array.from(firstPieces(rows.observations, rows.row));
  if (rows.weight !== undefined) for (let i = 0; i < rows.count; i += 1) weights[i]! *= rows.weight[i]!;
  let all = 0;
  for (let i = 0; i < rows.count; i += 1) all += weights[i]!;
  for (let i = 0; i < rows.count; i += 1) weights[i]! /= all;
  return weights;
}

interface GroupRisk {
  readonly risk: number;
  readonly influence: Influence;
}

/** The cohort as if it were in one group: its columns, and each row's ratio to the baseline. */
interface Side {
  readonly label: string;
  readonly x: readonly Float64Array[];
  readonly ratio: Float64Array;
}

function riskAt(state: CoxState, { x, ratio }: Side, tick: number, average: Float64Array): GroupRisk {
  const { rows, inverse } = state;
  const { codes, labels } = rows.observations.stratum;
  const at = hazardAt(state, tick);
  const own = new Float64Array(rows.count);
  const held = hazardShares(rows, state, at);
  // d risk / d predictor by row, and d risk / d hazard by stratum.
  const steep = new Float64Array(rows.count);
  const byHazard = new Float64Array(labels.length);
  let risk = 0;
  for (let i = 0; i < rows.count; i += 1) {
    if (average[i] === 0) continue;
    const stratum = codes[rows.row[i]!]!;
    const hazard = at.hazard[stratum]! * ratio[i]!;
    own[i] = -Math.expm1(-hazard);
    risk += average[i]! * own[i]!;
    const slope = average[i]! * Math.exp(-hazard);
    byHazard[stratum]! += slope * ratio[i]!;
    steep[i] = slope * hazard;
  }
  // With the baseline's own change.
  const slope = x.map((column, j) =>
    at.pull[j]!.reduce((sum, pull, stratum) => sum - byHazard[stratum]! * pull, productSum(steep, column)),
  );
  for (let i = 0; i < rows.count; i += 1) {
    held[i] = byHazard[codes[rows.row[i]!]!]! * held[i]! + average[i]! * (own[i]! - risk);
  }
  const byScore = inverse.map((line) => line.reduce((sum, v, k) => sum + v * slope[k]!, 0));
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
      });
    }),
  };
}

function less(one: Influence, other: Influence): Influence {
  const held = one.held.slice();
  for (let i = 0; i < held.length; i += 1) held[i]! -= other.held[i]!;
  return { held, byScore: one.byScore.map((own, j) => own - other.byScore[j]!) };
}

/** On the scale log(−log(1 − risk)); a risk of 0 or 1 has no spread there. */
function riskLimits(risk: number, standardError: number, { quantile }: Reference) {
  const hazard = -Math.log1p(-risk);
  if (!(hazard > 0 && Number.isFinite(hazard) && standardError > 0)) return { lower: risk, upper: risk };
  const factor = Math.exp((quantile * standardError) / ((1 - risk) * hazard));
  return { lower: -Math.expm1(-hazard / factor), upper: -Math.expm1(-hazard * factor) };
}
