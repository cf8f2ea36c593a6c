import type { FindingGroup } from "../../base/finding.ts";
import { capital, numbered } from "../../base/words.ts";
import { LEFT_OUT_MESSAGES } from "../../cohort/messages.ts";
import type { Cell, Count, Relation, TableExhibit } from "../../disclosure/exhibit.ts";
import { keyPart } from "../../disclosure/key-part.ts";
import { clusterCorrection } from "../estimates/cluster-correction.ts";
import type { Size, StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { exhibitBlock } from "../making/exhibit-block.ts";
import type { Section } from "../making/section.ts";
import { article, clusterNumberWords, clusterWords, levelWords, listed, sentence } from "../words.ts";
import { BRIEF_TITLES, CAUTIONS_ID } from "./brief-titles.ts";
import { countCell, keys, sized, textCell } from "./cells.ts";
import { cutWords } from "./cut-words.ts";
import { disclosureBlocks } from "./disclosure-blocks.ts";

/** How every number was made, from the settings in force, and what the study cannot do. */
export const methods: Section = {
  id: "methods",
  title: () => "Methods, limits and cautions",
  exhibits: (estimates, facts) => findingsExhibit(estimates, facts),
  blocks: (view, facts, figures) => [
    { kind: "list", items: methodSentences(facts, view.all.threshold) },
    ...disclosureBlocks(view),
    ...(facts.findings.groups.length === 0
      ? [{ kind: "prose" as const, text: "The checks of the export found nothing to report." }]
      : exhibitBlock(view.table("findings"), figures)),
    {
      kind: "prose",
      text: [
        "What every reader must know before acting on any of this stands in the brief: ",
        { section: CAUTIONS_ID, words: `“${BRIEF_TITLES.cautions}”` },
        ".",
      ],
    },
  ],
};

/** What was done in this run: a sentence about what was not done would mislead whoever copies it into a paper. */
export function methodSentences(facts: StudyFacts, threshold: number): string[] {
  const { unit, person, event } = facts.words;
  const { plan, timeUnit } = facts;
  return [
    `Design: a cohort taken from records and followed forward. Who is in which group was decided in practice, not by the study. Nobody was matched.`,
    `Unit of analysis: the ${unit.one}. Time runs in whole ${timeUnit.word}s from the start; equal times are ties. Only the first ${event.one} counts. ${cutSentence(facts)}`,
    `At risk on (entry, exit]. On one ${timeUnit.word}: entries last, ${event.many} first, departures after them.${facts.delayedEntry ? " Some enter late; they count from after their entry." : ""}`,
    `Outcome: ${facts.cause}. ${facts.competing.length === 0 ? "No competing outcome was declared." : `Competing outcomes: ${listed(facts.competing)}.`} ${censoringSentence(facts)}`,
    ...(facts.descriptor.study.revisionMeans === undefined
      ? []
      : [`What counts: ${sentence(facts.descriptor.study.revisionMeans)}`]),
    facts.crude.computed
      ? "Crude risk: Aalen–Johansen cumulative incidence, Greenwood-type variance, interval on the scale log(−log(1 − F))."
      : `Crude risk is not given: ${facts.crude.because}.`,
    `Net risk: one minus Kaplan–Meier, Greenwood variance, interval on the log-minus-log scale. Until ${article(event.one)} is seen the upper limit is Clopper–Pearson on the number at risk.`,
    `Curves stop on the last ${timeUnit.word} on which at least 40 and at least a tenth of the group's largest number are at risk; nothing is printed beyond it.`,
    `Intervals are ${levelWords(facts.level)}. Between groups: ${clusterWords(facts)}${clusterNumberWords(facts, threshold)}. ${facts.clusters.reason}${clusteredDifferenceWords(facts)}`,
    `Rates: exact Poisson intervals. Periods are (a, b]: ${plan.periods.length === 0 ? "one" : `cut at ${numbered(listed(plan.periods.map(String)), "year")}`}; a period with under 10 ${event.many} in all is joined with the next, without a look at the groups.`,
    `Hazard ratios: Cox regression of the outcome, Efron's rule for equal times, ${clusterWords(facts)}, ${correctionWords(facts)}${clusteredRatioWords(facts)}. ${adjusterSentence(facts)} Shown only with at least 5 ${event.many} in each group and for each coefficient, and never without the ratios by period.`,
    ...(plan.covariates.length === 0
      ? []
      : [
          "Standardised differences: difference of means or shares over the pooled spread; several categories by the Mahalanobis form. Missing is left out of the difference and counted beside it. No p-values in that table.",
        ]),
    ...comparisonSentences(facts),
    ...(threshold === 0
      ? []
      : [
          `Each ${person.one} may own several ${unit.many}; counts are hidden by the smaller of the two numbers.`,
        ]),
  ];
}

/** How the chance of a false alarm is shared out. */
function comparisonSentences({ comparisons, level }: StudyFacts): string[] {
  if (comparisons === 1) return ["One comparison was planned, so no p is adjusted for others."];
  return [
    `${comparisons} comparisons were planned in all. Intervals and p are those of each alone; what this export could have found is reckoned at ${Number(((1 - level) / comparisons).toPrecision(2))} each, and the analysts' copy adjusts p by the methods of Holm and of Benjamini and Hochberg.`,
  ];
}

function cutSentence(facts: StudyFacts): string {
  const cuts = cutWords(facts);
  if (cuts.length === 0) return "Numbers stay numbers; none is cut into groups.";
  return `Numbers enter tables and models as numbers; only elsewhere are some cut: ${listed(cuts)}.`;
}

function clusteredDifferenceWords({ clusters }: StudyFacts): string {
  if (clusters.by === "none") return "";
  return " In the variance of a difference the influence of each cluster on a group is divided by one minus its share of that group, and a t distribution is used on the degrees of freedom that these shares leave (Satterthwaite; Bell and McCaffrey 2002): simulated without any effect, p then falls below 5 % in about 3 % of draws with 12 clusters in each of two groups or with 4 against 20, and in 4 % with 8 against 112.";
}

function clusteredRatioWords(facts: StudyFacts): string {
  if (clusterCorrection(facts) !== "shares") return "";
  return "; t on the degrees of freedom that these parts leave (Satterthwaite; Bell and McCaffrey 2002): simulated with clusters that choose their group, the 95 % interval then misses the truth in 6 to 7 % of draws with 12 clusters in each of two groups, and in 3 % with 4 against 20";
}

function correctionWords(facts: StudyFacts): string {
  switch (clusterCorrection(facts)) {
    case "shares":
      return "each cluster's score corrected for its own part of the information (Mancl and DeRouen 2001, carried to this model)";
    case "clusters":
      return "the variance times G / (G − 1) of the clusters G";
    case "none":
      return "the variance that of the model";
  }
}

function adjusterSentence({ plan, words }: StudyFacts): string {
  const { adjusters = [] } = plan;
  if (adjusters.length === 0) return "Nothing is adjusted for.";
  return `Adjusters were declared in the plan with a reason each and are settled before the step; none was chosen by its p. ${capital(words.unit.many)} without one of their values are left out of both columns.`;
}

function censoringSentence(facts: StudyFacts): string {
  const { study } = facts.descriptor;
  if (!facts.hasDates) {
    return "The export holds durations only, so calendar adjustment, completeness and the choice of a censoring rule are out of reach.";
  }
  if (facts.plan.endpoint.censoring !== "lastContact") {
    return `Without an outcome, follow-up ends at the data cut (${study.dataCut}), or on moving abroad where that is recorded.`;
  }
  const hasRadiographs = facts.descriptor.resources.some(({ schema }) =>
    schema.fields.some(({ role }) => role === "radiographDate"),
  );
  const end = hasRadiographs
    ? "the last contact, or at the last radiograph where that is later"
    : "the last contact";
  return `Without an outcome, follow-up ends at ${end}. A ${facts.words.event.one} or death that is recorded later than the last contact counts on its own day; one that was never recorded in between cannot be seen.`;
}

/** Counts only: the rows are named in the analyst's terminal, never on a page. */
function findingsExhibit({ leftOut }: StudyEstimates, facts: StudyFacts): readonly TableExhibit[] {
  const { groups } = facts.findings;
  if (groups.length === 0) return [];
  return [
    {
      kind: "table",
      id: "findings",
      title: "What the checks of the export found",
      columns: [
        { id: "finding", label: "Finding" },
        { id: "field", label: "Field" },
        { id: "weight", label: "Weight" },
        { id: "rows", label: "Rows", align: "end" },
      ],
      rows: groups.map((group) => ({
        label: group.code.replaceAll("-", " "),
        cells: [textCell(group.field ?? ""), textCell(group.severity), rowsCell(group)],
      })),
      notes: ["Nothing was changed or dropped because of a finding unless the method above says so."],
      relations: leftOutRelation(leftOut, groups),
    },
  ];
}

/** A finding about a field as a whole counts no rows, and there is nothing in it to hide. */
function rowsCell(group: FindingGroup): Cell {
  const [first] = group.first;
  const isOfField = first !== undefined && first.row === undefined && group.count === 1;
  return isOfField ? textCell("whole field") : countCell(findingCount(group));
}

/** Rows, not people: whose they are the checks do not say. */
function findingCount({ code, field, count }: FindingGroup): Count {
  return { key: `finding/${code}/${keyPart(field ?? "")}`, units: count };
}

/** Those whom the flow has without time under observation are the ones found to be so. */
function leftOutRelation(leftOut: Size, groups: readonly FindingGroup[]): Relation[] {
  const parts = groups.filter(({ code }) => Object.hasOwn(LEFT_OUT_MESSAGES, code)).map(findingCount);
  const units = parts.reduce((sum, part) => sum + part.units, 0);
  return parts.length > 0 && units === leftOut.units ? [{ total: sized(keys.noTime, leftOut), parts }] : [];
}
