import { ArgumentError } from "../base/errors.ts";
import type { CoxFit, ModelTest } from "./cox-result.ts";
import { chiSquareTest } from "./cox-tests.ts";

/**
 * Does a model that holds another one fit better? Likelihood ratio of two fits on the same rows; rows are independent.
 *
 * @throws ArgumentError where the fits rest on different rows or events or have sampling weights, and where the second has no further
 * coefficient.
 */
export function largerModelTest(smaller: CoxFit, larger: CoxFit): ModelTest {
  if (smaller.rows !== larger.rows || smaller.events !== larger.events)
    throw new ArgumentError("largerModelTest: both fits must rest on the same rows and events");
  if (larger.settings.weights === "sampling")
    throw new ArgumentError("largerModelTest: with sampling weights there is no likelihood to compare");
  const more = larger.estimated.length - smaller.estimated.length;
  if (more < 1) throw new ArgumentError("largerModelTest: the second fit must have more coefficients");
  return chiSquareTest(Math.max(0, 2 * (larger.logLikelihood - smaller.logLikelihood)), more);
}
