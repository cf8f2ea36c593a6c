import { caseFields } from "../../cases/descriptor-rules.ts";
import type { ClearedTable } from "../../disclosure/cleared.ts";
import type { Exhibit } from "../../disclosure/exhibit.ts";
import type { Block } from "../../report/block.ts";
import type { StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { exhibitBlock } from "../making/exhibit-block.ts";
import type { Section } from "../making/section.ts";
import { listed } from "../words.ts";
import { allCausesExhibit } from "./all-causes.ts";
import { effectLinesExhibit } from "./effect-lines.ts";
import { fewClustersCaution } from "./few-clusters.ts";
import { formLinesExhibits, formLinesId } from "./form-lines.ts";
import { hazardRatiosExhibit } from "./hazard-ratios.ts";
import { influenceLinesExhibit } from "./influence-lines.ts";
import { modelCoefficientsExhibit } from "./model-coefficients.ts";
import { modelFactsExhibit } from "./model-facts.ts";
import { otherFitsExhibit } from "./other-fits.ts";
import { periodsDisagree } from "./periods-disagree.ts";
import { standardisedExhibit } from "./standardised.ts";

/** The groups' hazard ratios, alone and adjusted, always by period as well; and the absolute difference they mean. */
export const adjusted: Section = {
  id: "adjusted",
  title: ({ plan }) =>
    plan.adjusters === undefined ? "Ratios over the years" : "Adjusted for what was known beforehand",
  exhibits,
  blocks: (view, facts, figures) => [
    ...adjusterBlocks(facts),
    ...fewClustersCaution(facts),
    ...exhibitBlock(view.table("hazard-ratios"), figures),
    ...crossingBlocks(view.table("standardised")),
    ...exhibitBlock(view.table("standardised"), figures),
    ...exhibitBlock(view.lines("effect-over-time"), figures),
    ...(facts.plan.adjusters ?? []).flatMap((_adjuster, at) =>
      exhibitBlock(view.lines(formLinesId(at)), figures),
    ),
    ...exhibitBlock(view.lines("influence"), figures),
    ...exhibitBlock(view.table("model-coefficients"), figures),
    ...exhibitBlock(view.table("model-facts"), figures),
    ...exhibitBlock(view.table("all-causes"), figures),
    ...exhibitBlock(view.table("other-fits"), figures),
  ],
};

function exhibits(
  { adjusted: found, compared, survival }: StudyEstimates,
  facts: StudyFacts,
): readonly Exhibit[] {
  const disagree = periodsDisagree(found, facts);
  const standardised = standardisedExhibit(found, survival, facts, disagree);
  return [
    hazardRatiosExhibit(found, compared, facts),
    // A number that can have the wrong sign is not handed to people who quote it without its caution.
    disagree
      ? {
          kind: "for analysts",
          id: "standardised-of-one-ratio",
          title: standardised.title,
          exhibits: () => [standardised],
        }
      : standardised,
    {
      kind: "for analysts",
      id: "model",
      title: "The model, its checks, every cause, and other ways of fitting",
      exhibits: () => [
        ...effectLinesExhibit(found, facts),
        ...formLinesExhibits(found, facts),
        ...influenceLinesExhibit(found, facts),
        ...modelCoefficientsExhibit(found, facts),
        modelFactsExhibit(found, facts),
        allCausesExhibit(found, facts),
        otherFitsExhibit(found, facts),
      ],
    },
  ];
}

/** Why committees are given no such difference, and what analysts must know before they quote theirs. */
function crossingBlocks(table: ClearedTable | undefined): Block[] {
  const sides = "The ratios of the periods lie on both sides of 1.";
  const instead = "The differences at stated years under “The groups compared” do not need that.";
  if (table === undefined) {
    return [
      {
        kind: "caution",
        text: `${sides} A difference made from one ratio for all years could then have the wrong sign at a given year, and is not given. ${instead}`,
      },
    ];
  }
  if (table.settings.periodsDisagree !== true) return [];
  return [
    {
      kind: "caution",
      text: `${sides} The differences below take one ratio for all years, so they can have the wrong sign at a given year; committees are not given them. ${instead}`,
    },
  ];
}

function adjusterBlocks({ plan, words, descriptor }: StudyFacts): Block[] {
  const { adjusters = [] } = plan;
  if (adjusters.length === 0) {
    return [
      {
        kind: "caution",
        text: "The plan names nothing to adjust for, so these ratios compare the groups as they were.",
      },
    ];
  }
  const reasons = adjusters.map(({ field, reason }) => `${titleOf(descriptor, field)} (${reason})`);
  return [
    {
      kind: "prose",
      text: `Adjusted for what the plan declares, each settled before the step: ${listed(reasons)}. What was not written down cannot be adjusted for, and an adjusted ratio is still no proof of a cause.`,
    },
    {
      kind: "prose",
      text: `Both columns use the same ${words.unit.many}: those with every value recorded. One ratio over all years is an average; read it only beside the ratios by period.`,
    },
  ];
}

/** The words of the dictionary for a field that the plan names by itself or by its role. */
function titleOf(descriptor: StudyFacts["descriptor"], name: string): string {
  const field = caseFields(descriptor).find((one) => one.name === name || `role:${one.role}` === name);
  return field?.title ?? name;
}
