import { type Answer, computed, notComputed } from "../../base/answer.ts";
import { dateOfDay } from "../../base/day-number.ts";
import type { Cases } from "../../cases/cases.ts";
import type { CoxOptions } from "../../regression/cox-options.ts";
import { coxRegression } from "../../regression/cox-regression.ts";
import type { CoxFit, ModelTest } from "../../regression/cox-result.ts";
import { type EventsOverExpected, eventsOverExpected } from "../../regression/events-over-expected.ts";
import { largerModelTest } from "../../regression/larger-model-test.ts";
import type { ModelMatrix } from "../../regression/model-matrix.ts";
import { namedColumn } from "../../technique/named-column.ts";
import { fieldTitle } from "../../technique/step-states.ts";
import type { StudyFacts } from "../facts.ts";
import type { StudyObservations } from "../observations.ts";
import type { Adjuster } from "../plan/plan.ts";
import { adjustedMatrix } from "./adjusted-matrix.ts";
import { adjusterColumn } from "./compared-columns.ts";

/** Whether the adjusted model has a number in the right form. */
export interface FormCheck {
  readonly label: string;
  readonly isCurve: boolean;
  /** What is added to a value of the column to print it: dates are years from here. */
  readonly origin: number;
  readonly course: Answer<EventsOverExpected>;
  /** A curve against a straight line in its place, whichever the model has. */
  readonly curved: Answer<ModelTest>;
}

/** The model as it was fitted, and what it was fitted on. */
export interface CheckedModel {
  readonly observed: StudyObservations;
  readonly matrix: ModelMatrix;
  readonly fit: CoxFit;
  readonly options: CoxOptions;
}

/** Every adjuster that is a number, in the order of the plan. */
export function formChecks(cases: Cases, model: CheckedModel, facts: StudyFacts): readonly FormCheck[] {
  const { observed, matrix, fit } = model;
  return (facts.plan.adjusters ?? []).flatMap((adjuster): readonly FormCheck[] => {
    const column = adjusterColumn(cases, observed, adjuster);
    if (column.kind !== "number") return [];
    const own = namedColumn(cases, adjuster.field, "adjusters");
    return [
      {
        label: fieldTitle(cases, own.field),
        isCurve: adjuster.curve === true,
        origin: own.kind === "day" ? FIRST_YEAR : 0,
        course: eventsOverExpected(observed.observations, matrix, fit, {
          values: column.values,
          level: facts.level,
        }),
        curved: curveAgainstLine(cases, model, adjuster, facts),
      },
    ];
  });
}

/** Of day 0. */
const FIRST_YEAR = Number(dateOfDay(0).slice(0, 4));

function curveAgainstLine(
  cases: Cases,
  { observed, fit, options }: CheckedModel,
  adjuster: Adjuster,
  facts: StudyFacts,
): Answer<ModelTest> {
  const { curve, ...straight } = adjuster;
  const turned: Adjuster = curve === true ? straight : { ...straight, curve: true };
  const adjusters = (facts.plan.adjusters ?? []).map((one) => (one === adjuster ? turned : one));
  const other = otherFit(cases, observed, { ...facts, plan: { ...facts.plan, adjusters } }, options);
  if (!other.computed) return other;
  const [smaller, larger] = curve === true ? [other, fit] : [fit, other];
  if (larger.estimated.length <= smaller.estimated.length)
    return notComputed("no-bend", "its values are too few to bend a line");
  return computed(largerModelTest(smaller, larger));
}

function otherFit(
  cases: Cases,
  observed: StudyObservations,
  facts: StudyFacts,
  options: CoxOptions,
): Answer<CoxFit> {
  const built = adjustedMatrix(cases, observed, facts);
  if (!built.computed) return built;
  const fit = coxRegression(observed.observations, built.matrix, options);
  if (!fit.computed) return fit;
  return fit.fit.converged ? fit : notComputed("not-converged", "the iteration did not settle");
}
