import { RECORDED_STATE_WORDS } from "../../../cases/recorded-state.ts";
import type { TableExhibit } from "../../../disclosure/exhibit.ts";
import { shareCell, textCell, wordsCell } from "../../sections/cells.ts";
import { levelWords } from "../../words.ts";
import { READINGS, standardWords } from "../reading.ts";
import type { AdherenceRun, StepAdherence } from "../run-adherence.ts";
import { boundsCell, intervalCell } from "./share-cells.ts";
import { EVERYBODY, type StepCounts, stepCounts, stepRelations } from "./step-counts.ts";

type Run = Omit<AdherenceRun, "exhibits">;

const countsOf = ({ label, shares }: StepAdherence): StepCounts => stepCounts(EVERYBODY, label, shares);

/** How often each step was done where it was written down, as bars. */
export function doneExhibit({ steps, level, descriptor: { study } }: Run): TableExhibit {
  return {
    kind: "table",
    id: "done",
    title: "How often each step was done, where it was written down",
    columns: [
      { id: "step", label: "Step" },
      { id: "done", label: `Done (${levelWords(level)} interval)`, align: "end" },
    ],
    rows: steps.map((step) => {
      const { done, notDone } = countsOf(step);
      return { label: step.label, cells: [intervalCell(step.shares.share, [done, notDone])] };
    }),
    notes: [
      `Wilson's interval; it takes every ${study.unit.one} as independent. Out of those recorded as done or not done; where a step does not apply it is not counted.`,
    ],
    relations: steps.flatMap((step) => stepRelations(countsOf(step))),
    picture: "bars",
  };
}

/** Each step against its standard. */
export function standardsExhibit({ steps, level, fewestRecorded }: Run): TableExhibit {
  return {
    kind: "table",
    id: "standards",
    title: "The steps and their standards",
    columns: [
      { id: "step", label: "Step" },
      { id: "done", label: `Done where written down (${levelWords(level)} interval)`, align: "end" },
      { id: "bounds", label: "Done, whatever was not written down", align: "end" },
      { id: "standard", label: "Standard" },
      { id: "reading", label: "What the records say" },
    ],
    rows: steps.map((step) => {
      const { done, notDone, notRecorded } = countsOf(step);
      const { standard, reading, shares } = step;
      return {
        label: step.label,
        cells: [
          intervalCell(shares.share, [done, notDone]),
          boundsCell(shares.bounds, [done, notDone, notRecorded]),
          textCell(standard === undefined ? "none set" : standardWords(standard)),
          reading === undefined
            ? textCell("not judged")
            : wordsCell(READINGS[reading], [done, notDone, notRecorded]),
        ],
      };
    }),
    notes: [
      "Whatever was not written down: the share if none, and if all, of the unrecorded were done; chance is not counted in.",
      `Reached and not reached are said when the whole interval lies on that side of the standard; whatever was not written down, when it would do so with the worst of the unrecorded filled in. Fewer than ${fewestRecorded} written down: nothing is said.`,
    ],
    relations: steps.flatMap((step) => stepRelations(countsOf(step))),
  };
}

/** The four states of each step. */
export function statesExhibit({ steps }: Run): TableExhibit {
  return {
    kind: "table",
    id: "recording",
    title: "How the steps were recorded",
    columns: [
      { id: "step", label: "Step" },
      ...Object.entries(RECORDED_STATE_WORDS).map(([id, label]) => ({ id, label, align: "end" as const })),
    ],
    rows: steps.map((step) => {
      const { done, notDone, notApplicable, notRecorded, all } = countsOf(step);
      return {
        label: step.label,
        cells: [done, notDone, notApplicable, notRecorded].map((part) => shareCell(part, all)),
      };
    }),
    notes: [
      "Blank never means no. What was written down after a revision counts as not recorded.",
      "Not applicable is what the unit wrote; who may leave a step out is for the unit to say.",
    ],
    relations: steps.flatMap((step) => stepRelations(countsOf(step))),
  };
}
