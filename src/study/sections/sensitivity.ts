import type { Exhibit } from "../../disclosure/exhibit.ts";
import type { StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { exhibitBlock } from "../making/exhibit-block.ts";
import type { Section } from "../making/section.ts";
import { comparisonsExhibit } from "./comparisons.ts";
import { lossLinesExhibit, lossTableExhibit } from "./loss.ts";
import { otherTestsExhibit } from "./other-tests.ts";
import { unrecordedCauseExhibit } from "./unrecorded-cause.ts";

/** Whether the answer moves when the test, the fate of those lost, or what nobody recorded, is taken to be another. */
export const sensitivity: Section = {
  id: "does-it-move",
  title: () => "Does the answer move?",
  exhibits,
  blocks: (view, _facts, figures) => [
    ...exhibitBlock(view.table("comparisons"), figures),
    ...exhibitBlock(view.table("other-tests"), figures),
    ...exhibitBlock(view.table("unrecorded-cause"), figures),
    ...exhibitBlock(view.lines("loss-bounds"), figures),
    ...exhibitBlock(view.table("loss-at-years"), figures),
  ],
};

function exhibits(estimates: StudyEstimates, facts: StudyFacts): readonly Exhibit[] {
  return [
    {
      kind: "for analysts",
      id: "sensitivity",
      title:
        "The comparisons counted, other tests, what something unrecorded would have to be, and what those lost to follow-up could change",
      exhibits: () => [
        comparisonsExhibit(estimates, facts),
        otherTestsExhibit(estimates.otherTests(), facts),
        unrecordedCauseExhibit(estimates.adjusted, facts),
        ...lossLinesExhibit(estimates.loss(), facts),
        ...lossTableExhibit(estimates.loss(), facts),
      ],
    },
  ];
}
