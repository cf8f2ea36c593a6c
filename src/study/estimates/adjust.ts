import { type Answer, computed, type NotComputed, notComputed } from "../../base/answer.ts";
import { once } from "../../base/once.ts";
import { tickOfYear } from "../../base/time-unit.ts";
import { coxConcordance } from "../../regression/cox-concordance.ts";
import type { CoxOptions } from "../../regression/cox-options.ts";
import { coxRegression } from "../../regression/cox-regression.ts";
import type { CoxFit } from "../../regression/cox-result.ts";
import { coxInfluence } from "../../regression/cox-row-influence.ts";
import { effectOverTime } from "../../regression/effect-over-time.ts";
import { type HazardRatiosByPeriod, hazardRatiosByPeriod } from "../../regression/hazard-ratios-by-period.ts";
import type { ModelMatrix } from "../../regression/model-matrix.ts";
import { proportionalHazardsCheck } from "../../regression/proportional-hazards-check.ts";
import { asIfInGroup, standardisedCurves } from "../../regression/standardised-curves.ts";
import { independentUnits, unitsSeen } from "../../survival/units.ts";
import type { RowCodes } from "../../technique/row-codes.ts";
import type { StudyFacts } from "../facts.ts";
import type { StudyObservations } from "../observations.ts";
import { type AdjustedMatrix, adjustedMatrix, groupMatrix, groupsAlone } from "./adjusted-matrix.ts";
import { clusterCorrection } from "./cluster-correction.ts";
import type { StudyData } from "./estimate.ts";
import type { Adjusted, AdjustedModel, CauseFit, GroupSize, ModelChecks, ModelRows } from "./estimates.ts";
import { formChecks } from "./form-checks.ts";
import { groupSizes } from "./group-sizes.ts";
import { noOtherFits, otherFits } from "./other-fits.ts";
import { someObservations } from "./some-observations.ts";

/** With fewer events in a group, or for each coefficient, only rates are compared. */
const FEWEST_EVENTS = 5;

const ONE_PERIOD = notComputed("one-period", "too few events to divide the years into periods");
const NO_ADJUSTERS = notComputed("no-adjusters", "the plan names nothing to adjust for");

/**
 * The groups' hazard ratios, alone and adjusted for what the plan declares, over all years and by period, with the
 * absolute difference they mean and the checks of the model.
 *
 * Alone and adjusted rest on the same rows, those with every value; where no adjusted model can be shown, the groups alone
 * rest on all rows compared.
 */
export function adjust(
  { cases, compared }: Pick<StudyData, "cases" | "compared">,
  persons: RowCodes,
  periods: readonly number[],
  facts: StudyFacts,
): Adjusted {
  const sizesOf = (rows: StudyObservations) => groupSizes(rows, persons, facts.plan.years, periods);
  const hasAdjusters = facts.plan.adjusters !== undefined;
  const complete = hasAdjusters
    ? groundOf(adjustedMatrix(cases, compared, facts), compared, sizesOf)
    : NO_ADJUSTERS;
  const adjusted = complete.computed ? modelOf(complete, complete.matrix, periods, facts) : complete;
  const ground =
    complete.computed && adjusted.computed
      ? complete
      : groundOf(groupMatrix(compared, facts), compared, sizesOf);
  if (!ground.computed) return withoutModel(ground, facts, sizesOf(compared));
  const own = groupsAlone(ground.matrix);
  const alone = modelOf(ground, own, periods, facts);
  const shown = adjusted.computed
    ? { matrix: ground.matrix, model: adjusted }
    : { matrix: own, model: alone };
  // Penalised likelihood is for few events for each coefficient; below the floor of a group nothing is fitted.
  const why = noGround(ground, facts);
  const eventsPerParameter = shown.model.computed ? shown.model.fit.eventsPerParameter : 0;
  return {
    groupTerm: ground.groupTerm,
    rows: ground.rows,
    lost: complete.computed ? complete.matrix.lost : [],
    alone,
    adjusted,
    checks: once(() => checksOf(ground.observed, shown.matrix, shown.model, facts)),
    forms: once(() =>
      complete.computed && adjusted.computed
        ? formChecks(
            cases,
            {
              observed: complete.observed,
              matrix: complete.matrix,
              fit: adjusted.fit,
              options: coxOptions(facts),
            },
            facts,
          )
        : [],
    ),
    causes: once(() => causes(ground, shown.matrix, facts)),
    others: once(() =>
      why === undefined
        ? otherFits(ground.observed, shown.matrix, { groupTerm: ground.groupTerm, eventsPerParameter }, facts)
        : noOtherFits(why),
    ),
  };
}

/** Rows that a model is fitted on, and its columns. */
interface Ground extends AdjustedMatrix {
  readonly observed: StudyObservations;
  readonly rows: ModelRows;
}

function groundOf(
  built: Answer<AdjustedMatrix>,
  compared: StudyObservations,
  sizesOf: (rows: StudyObservations) => GroupSize[],
): Answer<Ground> {
  if (!built.computed) return built;
  const { matrix, groupTerm } = built;
  const observed = someObservations(compared, matrix.rows);
  return computed({
    groupTerm,
    observed,
    matrix: { ...matrix, rows: matrix.rows.map((_, at) => at) },
    rows: { sizes: sizesOf(observed), isEverybody: matrix.rows.length === compared.rows.length },
  });
}

function coxOptions(facts: StudyFacts): CoxOptions {
  const { cause, level, clusters } = facts;
  return {
    event: [cause],
    level,
    variance: clusters.by === "none" ? "model" : "clustered",
    smallSample: clusterCorrection(facts),
  };
}

function modelOf(
  ground: Ground,
  matrix: ModelMatrix,
  periods: readonly number[],
  facts: StudyFacts,
): Answer<AdjustedModel> {
  const why = noGround(ground, facts);
  if (why !== undefined) return why;
  const { groupTerm } = ground;
  const { observations } = ground.observed;
  const options = coxOptions(facts);
  const cuts = periods.map((year) => tickOfYear(year, facts.timeUnit));
  const byPeriod =
    cuts.length === 0
      ? ONE_PERIOD
      : hazardRatiosByPeriod(observations, matrix, { ...options, term: groupTerm, cuts });
  // Ratios by period come with the fit of all years, which needs not be made twice.
  const fit = byPeriod.computed
    ? computed(byPeriod.fits.average)
    : coxRegression(observations, matrix, options);
  if (!fit.computed) return fit;
  const fault = tooThin(fit, facts) ?? notConverged(fit) ?? doubled(fit, matrix);
  if (fault !== undefined) return fault;
  const differences = standardisedCurves(observations, matrix, fit, {
    groups: asIfInGroup(matrix, groupTerm),
    years: facts.plan.years,
    level: facts.level,
  });
  return computed({ fit, byPeriod: withEnoughEvents(byPeriod, facts), differences });
}

function withEnoughEvents(
  ratios: Answer<HazardRatiosByPeriod>,
  facts: StudyFacts,
): Answer<HazardRatiosByPeriod> {
  if (!ratios.computed) return ratios;
  const { byPeriod } = ratios.fits;
  return tooThin(byPeriod, facts) ?? notConverged(byPeriod) ?? ratios;
}

function checksOf(
  { observations }: StudyObservations,
  matrix: ModelMatrix,
  model: Answer<AdjustedModel>,
  facts: StudyFacts,
): Answer<ModelChecks> {
  if (!model.computed) return model;
  const { fit } = model;
  const [term] = matrix.terms;
  return computed({
    change: proportionalHazardsCheck(observations, matrix, fit),
    concordance: coxConcordance(observations, matrix, fit),
    influence: coxInfluence(observations, matrix, fit),
    effects: matrix.columns
      .slice(0, term?.columns)
      .filter(({ name }) => fit.estimated.includes(name))
      .map(({ name }) => effectOverTime(observations, matrix, fit, { column: name, level: facts.level })),
  });
}

/** The same model for every cause of the endpoint: what happens to the others belongs beside the one asked about. */
function causes({ observed }: Ground, matrix: ModelMatrix, facts: StudyFacts): readonly CauseFit[] {
  const { observations } = observed;
  const alone = onOneCluster(observed, facts);
  return observations.causes.map((cause, at) => {
    const events = observations.group.labels.map(() => 0);
    observations.event.forEach((code, row) => {
      if (code === at + 1) events[observations.group.codes[row] ?? 0]! += 1;
    });
    const few = events.some((count) => count < FEWEST_EVENTS) ? rareCause(cause) : undefined;
    return {
      cause,
      fit: alone ?? few ?? coxRegression(observations, matrix, { ...coxOptions(facts), event: [cause] }),
    };
  });
}

function rareCause(cause: string): NotComputed {
  return notComputed("few-events", `fewer than ${FEWEST_EVENTS} in a group had “${cause}”`);
}

/** Why no model is fitted at all. */
function noGround({ observed, rows: { sizes } }: Ground, facts: StudyFacts): NotComputed | undefined {
  const alone = onOneCluster(observed, facts);
  if (alone !== undefined) return alone;
  if (sizes.every(({ events }) => events.units >= FEWEST_EVENTS)) return undefined;
  return notComputed(
    "few-events",
    `a group has had fewer than ${FEWEST_EVENTS} ${facts.words.event.many}: rates only`,
  );
}

/** What a cluster that is its whole group would do to another result cannot be seen. */
function onOneCluster(
  { observations }: StudyObservations,
  { clusters: { by } }: StudyFacts,
): NotComputed | undefined {
  if (by === "none") return undefined;
  const units = independentUnits(observations, true);
  const isEvery = observations.group.labels.every((_, group) => unitsSeen(observations, units, [group]) > 1);
  if (isEvery) return undefined;
  return notComputed(
    "too-few-clusters",
    `a group rests on a single ${by}, so nothing shows how ${by}s differ`,
  );
}

function tooThin({ eventsPerParameter }: CoxFit, facts: StudyFacts): NotComputed | undefined {
  if (eventsPerParameter >= FEWEST_EVENTS) return undefined;
  return notComputed(
    "few-events-per-coefficient",
    `fewer than ${FEWEST_EVENTS} ${facts.words.event.many} for each coefficient: rates only`,
  );
}

function notConverged({ fit }: CoxFit): NotComputed | undefined {
  if (fit.converged) return undefined;
  return notComputed("not-converged", "the iteration did not settle, so its numbers are not shown");
}

/** An adjuster that says the same as other columns adjusts for nothing, and a reader would think that it did. */
function doubled({ columns }: CoxFit, { terms }: ModelMatrix): NotComputed | undefined {
  const column = columns.find(({ hazardRatio }) => !hazardRatio.computed && hazardRatio.code === "collinear");
  if (column === undefined) return undefined;
  const term = terms.find(({ name }) => name === column.term)?.name ?? column.term;
  return notComputed(
    "adjuster-doubled",
    `“${term}” cannot be told apart from the groups or the other adjusters`,
  );
}

function withoutModel(why: NotComputed, facts: StudyFacts, sizes: readonly GroupSize[]): Adjusted {
  return {
    groupTerm: facts.exposureTitle,
    rows: { sizes, isEverybody: true },
    lost: [],
    alone: why,
    adjusted: why,
    checks: () => why,
    forms: () => [],
    causes: () => [],
    others: () => noOtherFits(why),
  };
}
