import type { Exhibit } from "../../disclosure/exhibit.ts";
import type { StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { exhibitBlock } from "../making/exhibit-block.ts";
import type { Section } from "../making/section.ts";
import { allOutcomesExhibits } from "./all-outcomes.ts";
import { clusteredRatesExhibit } from "./clustered-rates.ts";
import { conditionalExhibit } from "./conditional.ts";
import { expectedExhibit } from "./expected.ts";
import { cumulativeHazardExhibit, smoothedHazardExhibit } from "./hazards.ts";
import { restrictedMeanExhibit } from "./restricted-mean.ts";
import { timesExhibit } from "./times.ts";

const TITLE = "The same question by other measures";

/** For the statistician. */
export const otherMeasures: Section = {
  id: "other-measures",
  title: () => TITLE,
  exhibits,
  blocks: (view, facts, figures) => {
    const shown = ["times", "restricted-mean", "conditional-risk", "clustered-rates", "expected"].flatMap(
      (id) => exhibitBlock(view.table(id), figures),
    );
    const outcomes = facts.groups.map((_, at) => `all-outcomes-${at + 1}`);
    const drawn = ["smoothed-hazard", "cumulative-hazard", ...outcomes].flatMap((id) =>
      exhibitBlock(view.lines(id), figures),
    );
    if (shown.length + drawn.length === 0) return [];
    return [
      {
        kind: "prose",
        text: `Each measure answers a question of its own. All but the last are of net risk: ${facts.cause} if nobody died or had another ${facts.words.event.one} first. None is adjusted for who the groups were.`,
      },
      ...shown,
      ...drawn,
    ];
  },
};

function exhibits(estimates: StudyEstimates, facts: StudyFacts): readonly Exhibit[] {
  return [{ kind: "for analysts", id: "other-measures", title: TITLE, exhibits: measures }];

  function measures() {
    const found = estimates.otherMeasures();
    return [
      timesExhibit(found.times, facts),
      restrictedMeanExhibit(found.restrictedMean, facts),
      ...conditionalExhibit(found.conditional, facts),
      ...clusteredRatesExhibit(found.clusteredRates, facts),
      ...expectedExhibit(found.expected, facts),
      smoothedHazardExhibit(found.smoothedHazard, facts),
      cumulativeHazardExhibit(found.cumulativeHazard, facts),
      ...allOutcomesExhibits(estimates, facts),
    ];
  }
}
