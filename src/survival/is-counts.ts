import type { CountsByTime } from "./counts.ts";
import type { ObservationColumns } from "./observations.ts";

/** Whether rows were already counted by time. */
export function isCounts(data: ObservationColumns | CountsByTime): data is CountsByTime {
  return "kind" in data && data.kind === "countsByTime";
}
