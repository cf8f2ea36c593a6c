import { type Answer, computed, notComputed } from "../../base/answer.ts";
import { type LossBounds, lossBounds } from "../../survival/loss-bounds.ts";
import type { StudyFacts } from "../facts.ts";
import type { StudyData } from "./estimate.ts";
import { placedOn } from "./placed-on.ts";

/** How far those lost could move the answer. The risk that the brief prints: crude where that is allowed. */
export function lossOfGroups({ compared, followUp }: StudyData, facts: StudyFacts): Answer<LossBounds> {
  const { lost, possible } = followUp;
  if (lost === undefined || possible === undefined) {
    return notComputed("durations-only", "needs dates of operation and a data cut");
  }
  const place = placedOn(compared.rows, followUp.rows);
  const lostRows = { lost: place(lost), possible: place(possible) };
  if (lostRows.lost.every((one) => one === 0))
    return notComputed("nobody-lost", "nobody was lost to follow-up");
  const { cluster: _, ...rows } = compared.observations;
  return computed(
    lossBounds(rows, lostRows, {
      risk: facts.crude.computed ? "crude" : "net",
      cause: facts.cause,
      level: facts.level,
      years: facts.plan.years,
    }),
  );
}
