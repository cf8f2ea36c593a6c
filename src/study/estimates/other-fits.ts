import { type Answer, notComputed } from "../../base/answer.ts";
import { fineGrayRegression } from "../../regression/fine-gray-regression.ts";
import { frailtyRegression } from "../../regression/frailty-regression.ts";
import { hazardRatiosWithinBetween } from "../../regression/hazard-ratios-within-between.ts";
import type { ModelMatrix } from "../../regression/model-matrix.ts";
import { penalisedCox } from "../../regression/penalised-cox.ts";
import type { StudyFacts } from "../facts.ts";
import type { StudyObservations } from "../observations.ts";
import { clusterCorrection } from "./cluster-correction.ts";
import type { OtherFits } from "./estimates.ts";

/** From this many events for each coefficient a penalty changes next to nothing. Common practice, no source. */
const ENOUGH_EVENTS = 10;
/** Above this many rows a frailty takes many seconds, which a report should not. */
const MOST_ROWS_WITH_FRAILTY = 50_000;

/** Fewer patients than this with events in both knees say nothing of what patients share. */
const FEWEST_PATIENTS_WITH_BOTH = 20;

const NO_CLUSTERS = notComputed("no-clusters", "the plan takes every row as independent");

/** The same model fitted in other ways, each of which answers a question of its own. */
export function otherFits(
  { observations }: StudyObservations,
  matrix: ModelMatrix,
  { groupTerm, eventsPerParameter }: { readonly groupTerm: string; readonly eventsPerParameter: number },
  facts: StudyFacts,
): OtherFits {
  const { cause, level, crude, clusters } = facts;
  const { cluster: _, ...independent } = observations;
  const event = [cause];
  const clustered =
    clusters.by === "none" ? {} : ({ variance: "clustered", smallSample: "clusters" } as const);
  const isPatient = clusters.by === "patient";
  return {
    penalised:
      eventsPerParameter >= ENOUGH_EVENTS
        ? notComputed(
            "enough-events",
            "there are events enough for each coefficient: a penalty changes next to nothing",
          )
        : penalisedCox(independent, matrix, { event, level, terms: [groupTerm] }),
    fineGray: crude.computed
      ? fineGrayRegression(observations, matrix, { cause, level, ...clustered })
      : (crude satisfies Answer<never>),
    frailty:
      clusters.by === "none"
        ? NO_CLUSTERS
        : observations.rows > MOST_ROWS_WITH_FRAILTY
          ? notComputed(
              "too-many-rows",
              "so many rows take too long for a report; ask frailtyRegression in a notebook",
            )
          : frailtyRegression(observations, matrix, {
              event,
              level,
              ...(isPatient ? { fewestWithTwoEvents: FEWEST_PATIENTS_WITH_BOTH } : {}),
            }),
    within: within(),
  };

  /** Surgeons against each other and within each: only where two groups were chosen by surgeons. */
  function within(): OtherFits["within"] {
    if (clusters.by !== "surgeon")
      return notComputed("not-by-surgeon", "the groups were not chosen by surgeon");
    if (facts.groups.length !== 2) return notComputed("several-groups", "only two groups can be split so");
    return hazardRatiosWithinBetween(observations, matrix, {
      event,
      level,
      term: groupTerm,
      variance: "clustered",
      smallSample: clusterCorrection(facts),
    });
  }
}

/** What stands where there are too few events for any model. */
export function noOtherFits({
  code,
  because,
}: {
  readonly code: string;
  readonly because: string;
}): OtherFits {
  const none = notComputed(code, because);
  return { penalised: none, fineGray: none, frailty: none, within: none };
}
