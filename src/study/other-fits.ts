import { type Answer, notComputed } from "../base/answer.ts";
import { fineGrayRegression } from "../regression/fine-gray-regression.ts";
import type { ModelMatrix } from "../regression/model-matrix.ts";
import { penalisedCox } from "../regression/penalised-cox.ts";
import type { OtherFits } from "./estimates.ts";
import type { StudyFacts } from "./facts.ts";
import type { StudyObservations } from "./observations.ts";

/** The same model fitted in other ways, each of which answers a question of its own. */
export function otherFits(
  { observations }: StudyObservations,
  matrix: ModelMatrix,
  facts: StudyFacts,
): OtherFits {
  const { cause, level, crude, clusters } = facts;
  const { cluster: _, ...independent } = observations;
  const clustered =
    clusters.by === "none" ? {} : ({ variance: "clustered", smallSample: "clusters" } as const);
  return {
    penalised: penalisedCox(independent, matrix, { event: [cause], level }),
    fineGray: crude.computed
      ? fineGrayRegression(observations, matrix, { cause, level, ...clustered })
      : (crude satisfies Answer<never>),
  };
}

/** What stands where there are too few events for any model. */
export function noOtherFits(reason: { readonly code: string; readonly because: string }): OtherFits {
  const none = notComputed(reason.code, reason.because);
  return { penalised: none, fineGray: none };
}
