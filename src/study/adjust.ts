import { type Answer, computed, type NotComputed, notComputed } from "../base/answer.ts";
import { tickOfYear } from "../base/time-unit.ts";
import type { Cases } from "../cases/cases.ts";
import { coxConcordance } from "../regression/cox-concordance.ts";
import { type CoxOptions, coxRegression } from "../regression/cox-regression.ts";
import type { CoxFit } from "../regression/cox-result.ts";
import { coxInfluence } from "../regression/cox-row-influence.ts";
import { effectOverTime } from "../regression/effect-over-time.ts";
import { hazardRatiosByPeriod } from "../regression/hazard-ratios-by-period.ts";
import type { ModelMatrix } from "../regression/model-matrix.ts";
import { proportionalHazardsCheck } from "../regression/proportional-hazards-check.ts";
import { asIfInGroup, standardisedCurves } from "../regression/standardised-curves.ts";
import { adjustedMatrix, groupsAlone } from "./adjusted-matrix.ts";
import type { Adjusted, AdjustedModel, GroupSize } from "./estimates.ts";
import type { StudyFacts } from "./facts.ts";
import type { StudyObservations } from "./observations.ts";
import { noOtherFits, otherFits } from "./other-fits.ts";

const ONE_PERIOD = notComputed("one-period", "too few events to divide the years into periods");

/** With fewer events in a group, or for each coefficient, only rates are compared. */
const FEWEST_EVENTS = 5;

/**
 * The groups' hazard ratios, alone and adjusted for what the plan declares, over all years and by period, with the
 * absolute difference they mean and the checks of the model.
 */
export function adjust(
  cases: Cases,
  compared: StudyObservations,
  sizes: readonly GroupSize[],
  periods: readonly number[],
  facts: StudyFacts,
): Adjusted {
  const { matrix, groupTerm } = adjustedMatrix(cases, compared, facts);
  const options: CoxOptions = {
    event: [facts.cause],
    level: facts.level,
    variance: facts.clusters.by === "none" ? "model" : "clustered",
    smallSample: facts.clusters.by === "none" ? "none" : "shares",
  };
  const few = tooFewEvents(sizes, facts);
  const { observations } = compared;
  const cuts = periods.map((year) => tickOfYear(year, facts.timeUnit));
  const modelOf = (own: ModelMatrix): Answer<AdjustedModel> => {
    if (few !== undefined) return few;
    const fit = coxRegression(observations, own, options);
    if (!fit.computed) return fit;
    const thin = tooThin(fit, facts);
    if (thin !== undefined) return thin;
    const byPeriod =
      cuts.length === 0
        ? ONE_PERIOD
        : hazardRatiosByPeriod(observations, own, { ...options, term: groupTerm, cuts });
    const differences = standardisedCurves(observations, own, fit, {
      groups: asIfInGroup(own, groupTerm),
      years: facts.plan.years,
      level: facts.level,
    });
    return computed({ fit, byPeriod, differences });
  };
  const alone = modelOf(groupsAlone(matrix));
  const adjusted =
    (facts.plan.adjusters ?? []).length === 0
      ? notComputed("no-adjusters", "the plan names nothing to adjust for")
      : modelOf(matrix);
  const shown = adjusted.computed
    ? { matrix, model: adjusted }
    : { matrix: groupsAlone(matrix), model: alone };
  return {
    groupTerm,
    rows: matrix.rows.length,
    lost: matrix.lost,
    alone,
    adjusted,
    checks: shown.model.computed ? computed(checksOf(shown.matrix, shown.model.fit)) : shown.model,
    causes: causes(shown.matrix),
    others: few === undefined ? otherFits(compared, shown.matrix, groupTerm, facts) : noOtherFits(few),
  };

  function checksOf(own: ModelMatrix, fit: CoxFit) {
    const [term] = own.terms;
    return {
      change: proportionalHazardsCheck(observations, own, fit),
      concordance: coxConcordance(observations, own, fit),
      influence: coxInfluence(observations, own, fit),
      effects: own.columns
        .slice(0, term?.columns)
        .filter(({ name }) => fit.estimated.includes(name))
        .map(({ name }) => effectOverTime(observations, own, fit, { column: name, level: facts.level })),
    };
  }

  /** The same model for every cause of the endpoint: what happens to the others belongs beside the one asked about. */
  function causes(own: ModelMatrix): Adjusted["causes"] {
    return observations.causes.map((cause) => ({
      cause,
      fit: few ?? coxRegression(observations, own, { ...options, event: [cause] }),
    }));
  }
}

function tooFewEvents(sizes: readonly GroupSize[], facts: StudyFacts): NotComputed | undefined {
  const isFew = sizes.some(({ events }) => events.units < FEWEST_EVENTS);
  if (!isFew) return undefined;
  return notComputed(
    "few-events",
    `a group has had fewer than ${FEWEST_EVENTS} ${facts.words.event.many}: rates only`,
  );
}

function tooThin({ eventsPerParameter }: CoxFit, facts: StudyFacts): NotComputed | undefined {
  if (eventsPerParameter >= FEWEST_EVENTS) return undefined;
  return notComputed(
    "few-events-per-coefficient",
    `fewer than ${FEWEST_EVENTS} ${facts.words.event.many} for each coefficient: rates only`,
  );
}
