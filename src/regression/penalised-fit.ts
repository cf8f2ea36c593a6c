import { type Answer, computed, notComputed } from "../base/answer.ts";
import type { FitReport, LikelihoodPoint } from "../numeric/newton.ts";
import { newtonMaximum } from "../numeric/newton.ts";
import { symmetricInverse } from "../numeric/symmetric-matrix.ts";
import { normalReference } from "../survival/few-clusters.ts";
import type { ModelTest } from "./cox-result.ts";
import { CONSTANT, type FitColumns, inCallerUnits, turned } from "./fit-columns.ts";
import { describeFit, type FitDescription, NOTHING_OF_ITS_OWN, RATIO_NOT_ASKED } from "./fit-description.ts";
import { placesOfTerms } from "./fitted-columns.ts";
import { notConverged } from "./likelihood-fit.ts";
import { type Profile, ratioTest } from "./likelihood-profile.ts";
import type { ModelMatrix, RowsLost } from "./model-matrix.ts";
import { profiledColumns } from "./profiled-columns.ts";

/** What a penalised fit of any model gives. Limits and p are those of the penalised likelihood. */
export interface PenalisedFit extends FitDescription {
  readonly rows: number;
  readonly events: number;
  readonly parameters: number;
  readonly eventsPerParameter: number | null;
  /** Without the penalty, at the penalised estimate. */
  readonly logLikelihood: number;
  /** With half the logarithm of the determinant of the information, in the caller's units. */
  readonly penalisedLogLikelihood: number;
  /** Penalised test that all coefficients but the constant are 0. */
  readonly likelihoodRatio: Answer<ModelTest>;
  readonly fit: FitReport;
  readonly lost: readonly RowsLost[];
}

export interface PenalisedInput {
  readonly matrix: ModelMatrix;
  readonly columns: FitColumns;
  readonly evaluate: (at: ArrayLike<number>) => LikelihoodPoint;
  readonly penalised: (at: ArrayLike<number>) => LikelihoodPoint;
  readonly start: readonly number[];
  readonly level: number;
  readonly rows: number;
  readonly events: number;
  readonly parameters: number;
  /** Terms whose limits and p are wanted; left out: all. */
  readonly terms?: readonly string[] | undefined;
}

// The curvature climbed by is not that of the penalty, so the last steps shrink by a factor instead of squaring.
const NEWTON = { stopWhenLevel: false, mostSteps: 300 } as const;

/** Top of the penalised likelihood, with profile limits and tests read from it. */
export function penalisedFit(input: PenalisedInput): Answer<PenalisedFit> {
  const { matrix, columns, evaluate, penalised, start, level, rows, events, parameters, terms } = input;
  if (columns.names.length === 0) return NOTHING_OF_ITS_OWN;
  const { at, report } = newtonMaximum(penalised, start, NEWTON);
  const { logLikelihood, information } = evaluate(at);
  const inverse = symmetricInverse(information);
  if (!report.converged || inverse === undefined) return notConverged(report);
  const top = penalised(at).logLikelihood;
  const profile: Profile = { evaluate: penalised, at, start, top, newton: NEWTON };
  const values = {
    estimates: inCallerUnits(columns, at),
    covariance: turned(columns.axes, inverse),
    reference: normalReference(level),
    separations: new Map(),
    hasRatios: true,
  };
  const ratio = (places: readonly number[]) => ratioTest(profile, places);
  const isAsked = (term: string) => terms === undefined || terms.includes(term);
  const askedPlaces = placesOfTerms(matrix, columns).flatMap(({ term, places }) =>
    isAsked(term) ? places : [],
  );
  const description = describeFit(matrix, columns, values, MODEL_BASED, (places) =>
    places.every((place) => askedPlaces.includes(place)) ? ratio(places) : RATIO_NOT_ASKED,
  );
  const slopes = columns.names.flatMap((name, place) => (name === CONSTANT ? [] : [place]));
  return computed({
    ...description,
    columns: profiledColumns(description.columns, columns, profile, level, isAsked),
    rows,
    events,
    parameters,
    eventsPerParameter: parameters === 0 ? null : events / parameters,
    logLikelihood,
    penalisedLogLikelihood: top - logScale(columns),
    likelihoodRatio: slopes.length === 0 ? NOTHING_OF_ITS_OWN : ratio(slopes),
    fit: report,
    lost: matrix.lost,
  });
}

const MODEL_BASED = { variance: "model", clusters: null, smallSample: "none", weights: null } as const;

/** Scaling multiplies the determinant; the axes are triangular, so their diagonal tells by how much. */
function logScale({ axes }: FitColumns): number {
  return axes.reduce((sum, axis, at) => sum + Math.log(axis[at] ?? 1), 0);
}

/** Why a penalised likelihood is not for rows that are no single independent ones. */
export function penaltyRefusal(hasWeights: boolean, hasClusters: boolean) {
  if (hasWeights) {
    return notComputed(
      "weights",
      "the penalty rests on the information of single rows, which weights change; give unweighted rows or an ordinary fit",
    );
  }
  if (hasClusters) {
    return notComputed(
      "clusters",
      "the penalty and its tests take rows as independent, which clusters are not; leave the clusters out or give an ordinary fit",
    );
  }
  return undefined;
}

export const TOO_FEW_EVENTS = notComputed(
  "fewer-events-than-parameters",
  "too few events for the parameters even with a penalty; use fewer terms or give rates only",
);
