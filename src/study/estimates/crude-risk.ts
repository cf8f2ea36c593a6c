import { type Answer, computed, notComputed } from "../../base/answer.ts";
import type { Cases } from "../../cases/cases.ts";
import { allowedRisks } from "../../cohort/allowed-risks.ts";
import type { Endpoint } from "../../cohort/endpoint.ts";

/**
 * Whether crude risk can be given: deaths must be captured, and the plan must let them compete.
 *
 * A "crude" curve in which deaths merely end observation would be a net one under a wrong name.
 */
export function crudeRisk(cases: Cases, endpoint: Endpoint): Answer<{ readonly allowed: true }> {
  const risks = allowedRisks(cases.descriptor);
  if (!risks.crude) return notComputed(risks.code, risks.because);
  const outcomes = [endpoint.event, ...endpoint.competing];
  if (cases.fieldOfRole.has("deathDate") && !outcomes.some((outcome) => "death" in outcome)) {
    return notComputed(
      "death-does-not-compete",
      "the plan does not name death among the outcomes, so people who died would count as still at risk",
    );
  }
  return computed({ allowed: true });
}
