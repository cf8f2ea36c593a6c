import { RECORDED_STATE_WORDS, RECORDED_STATES } from "../../../cases/recorded-state.ts";
import type { TableExhibit } from "../../../disclosure/exhibit.ts";
import { shareCell, sized } from "../../sections/cells.ts";
import type { FeasibilityRun } from "../run-feasibility.ts";
import { stateCounts, stepKeys } from "./step-counts.ts";

/** How often each step is recorded in which of the four states. */
export function recordingExhibit(run: Omit<FeasibilityRun, "exhibits">): TableExhibit {
  const questions = run.outcomes[0]?.questions ?? [];
  const whole = sized(stepKeys.followed, run.followed);
  const counts = questions.map(stateCounts);
  return {
    kind: "table",
    id: "recording",
    title: "How the steps were recorded",
    columns: [
      { id: "step", label: "Step" },
      ...RECORDED_STATES.map((state) => ({
        id: state,
        label: RECORDED_STATE_WORDS[state],
        align: "end" as const,
      })),
    ],
    rows: questions.map(({ title }, at) => ({
      label: title,
      cells: (counts[at] ?? []).map((count) => shareCell(count, whole)),
    })),
    notes: ["Blank never means no. What was written down after the revision counts as not recorded."],
    relations: counts.map((parts) => ({ total: whole, parts })),
  };
}
