import { checkObservations } from "../../survival/check-observations.ts";
import { someRows } from "../../survival/some-rows.ts";
import type { StudyObservations } from "../observations.ts";

/** Some of the rows compared, ascending, with all that belongs to them. */
export function someObservations(
  { observations, rows }: StudyObservations,
  places: Int32Array,
): StudyObservations {
  if (places.length === rows.length) return { observations, rows };
  return {
    observations: checkObservations(someRows(observations, places)),
    rows: places.map((place) => rows[place] ?? 0),
  };
}
