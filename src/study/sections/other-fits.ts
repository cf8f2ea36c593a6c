import { type Answer, computed } from "../../base/answer.ts";
import { fixed, pValue } from "../../base/display.ts";
import type { Cell, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { CoxColumn } from "../../regression/cox-result.ts";
import type { Adjusted, OtherFits } from "../estimates/estimates.ts";
import { firstOver, type GroupRatio } from "../estimates/first-over.ts";
import type { StudyFacts } from "../facts.ts";
import { clusterWords, levelWords } from "../words.ts";
import { limitsCell, noCell, textCell } from "./cells.ts";

/** The groups' ratio from other ways of fitting the same model, with what each is for. */
export function otherFitsExhibit(
  { adjusted, alone, others: fits, groupTerm }: Adjusted,
  facts: StudyFacts,
): TableExhibit {
  const others = fits();
  const model = adjusted.computed ? adjusted : alone;
  const pair = (other: number) => ({ label: `${facts.groups[0]} over ${facts.groups[other]}`, other });
  return {
    kind: "table",
    id: "other-fits",
    title: "The same ratio from other ways of fitting",
    columns: [
      { id: "fit", label: "Fit" },
      { id: "ratio", label: `Ratio (${levelWords(facts.level)} interval)`, align: "end" },
      { id: "p", label: "p", align: "end" },
      { id: "for", label: "What it is for" },
    ],
    rows: facts.groups.slice(1).flatMap((_, at) => {
      const { label, other } = pair(at + 1);
      const row = (words: string, ratio: Answer<GroupRatio>, purpose: string): TableRow => ({
        label: words,
        indent: 1,
        cells: [ratioCell(ratio), pCell(ratio), textCell(purpose)],
      });
      return [
        { label, heading: true, cells: [] },
        row(
          `as above, ${clusterWords(facts)}`,
          model.computed ? firstOver(model.fit.columns, groupTerm, facts.groups, other) : model,
          "the hazard of the cause, as the comparison asks",
        ),
        row(
          "penalised likelihood (Firth)",
          others.penalised.computed
            ? firstOver(others.penalised.columns, groupTerm, facts.groups, other)
            : others.penalised,
          `few events: less bias, profile limits; every ${facts.words.unit.one} taken as independent`,
        ),
        row(
          `subdistribution (Fine and Gray), ${clusterWords(facts)}`,
          others.fineGray.computed
            ? firstOver(others.fineGray.columns, groupTerm, facts.groups, other)
            : others.fineGray,
          "prediction of crude risk; not an effect on the cause, deaths alone can move it",
        ),
        ...(facts.clusters.by === "none"
          ? []
          : [
              row(
                `shared frailty of each ${facts.clusters.by} (gamma)`,
                others.frailty.computed
                  ? firstOver(others.frailty.columns, groupTerm, facts.groups, other)
                  : others.frailty,
                frailtyWords(others.frailty, facts),
              ),
            ]),
        ...withinRows(others.within, row, facts),
      ];
    }),
    settings: {
      ...(others.penalised.computed ? { penalised: others.penalised.settings } : {}),
      ...(others.fineGray.computed ? { fineGray: others.fineGray.settings } : {}),
    },
  };
}

function frailtyWords(frailty: OtherFits["frailty"], facts: StudyFacts): string {
  if (!frailty.computed) return `what ${facts.words.unit.many} of one ${facts.clusters.by} share`;
  const { varianceTest, medianHazardRatio } = frailty;
  return `within equal frailty; median hazard ratio of two ${facts.clusters.by}s ${fixed(medianHazardRatio.estimate, 2)}, no frailty: p ${pValue(varianceTest.p)}`;
}

type RowOf = (words: string, ratio: Answer<GroupRatio>, purpose: string) => TableRow;

/** The model has the second group against the first, like all of them. */
function withinRows(within: OtherFits["within"], row: RowOf, { words }: StudyFacts): TableRow[] {
  if (!within.computed) return [];
  const { difference, cluster } = within;
  const apart = difference.computed ? `; the two differ: p ${pValue(difference.p)}` : "";
  return [
    row(
      `within ${cluster}s`,
      turnedOver(within.within),
      `${words.unit.many} of one ${cluster} against each other; what is particular to a ${cluster} cannot confound it${apart}`,
    ),
    row(`between ${cluster}s`, turnedOver(within.between), `${cluster}s who do it always against never`),
  ];
}

function turnedOver({ hazardRatio }: CoxColumn): Answer<GroupRatio> {
  if (!hazardRatio.computed) return hazardRatio;
  const { ratio, lower, upper, p } = hazardRatio;
  return computed({ ratio: 1 / ratio, lower: 1 / upper, upper: 1 / lower, p });
}

function ratioCell(ratio: Answer<GroupRatio>): Cell {
  return ratio.computed ? limitsCell([ratio.ratio, ratio.lower, ratio.upper], 2, []) : noCell(ratio);
}

function pCell(ratio: Answer<GroupRatio>): Cell {
  return ratio.computed ? { kind: "pValue", p: ratio.p, restsOn: [] } : textCell("");
}
