import type { Answer } from "../../base/answer.ts";
import type { TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { CoxColumn, ModelTest } from "../../regression/cox-result.ts";
import type { Adjusted } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { clusterWords, levelWords } from "../words.ts";
import { limitsCell, noCell, textCell } from "./cells.ts";

/** Every coefficient of the model in use, each term with its test and the check of its constancy. */
export function modelCoefficientsExhibit(
  { adjusted, alone, checks: check }: Adjusted,
  facts: StudyFacts,
): readonly TableExhibit[] {
  const model = adjusted.computed ? adjusted : alone;
  if (!model.computed) return [];
  const { fit } = model;
  const checks = check();
  const change = checks.computed && checks.change.computed ? checks.change.terms : [];
  return [
    {
      kind: "table",
      id: "model-coefficients",
      title: `The ${adjusted.computed ? "adjusted " : ""}model, term by term`,
      columns: [
        { id: "term", label: "Term" },
        { id: "ratio", label: `Hazard ratio (${levelWords(facts.level)} interval)`, align: "end" },
        { id: "error", label: "Standard error of its log", align: "end" },
        { id: "p", label: "p", align: "end" },
        { id: "constant", label: "Constant over time? p", align: "end" },
      ],
      rows: fit.terms.flatMap(({ term, wald }) => [
        {
          label: term,
          cells: [
            textCell(""),
            textCell(""),
            pCell(wald),
            pCell(change.find((one) => one.term === term)?.test),
          ],
        },
        ...fit.columns.filter((column) => column.term === term).map(columnRow),
      ]),
      notes: [
        `Wald tests and limits: ${clusterWords(facts)}. The ratios of the adjusters are not answers to questions of their own: each is adjusted for things that may lie on its own path.`,
        "The check of constancy is a score test against time on the scale of survival, and model-based also where rows are clustered.",
      ],
      settings: { ...fit.settings },
    },
  ];
}

function columnRow({ column, hazardRatio, separation }: CoxColumn): TableRow {
  if (hazardRatio.computed) {
    const { ratio, lower, upper, standardError, p } = hazardRatio;
    return {
      label: column,
      indent: 1,
      cells: [
        limitsCell([ratio, lower, upper], 2, []),
        { kind: "number", value: standardError, decimals: 3, restsOn: [] },
        { kind: "pValue", p, restsOn: [] },
        textCell(""),
      ],
    };
  }
  const limit = separation?.limit;
  return {
    label: column,
    indent: 1,
    cells: [
      noCell(hazardRatio),
      textCell(
        limit?.computed
          ? `ratio ${limit.side === "lower" ? "above" : "below"} ${limit.ratio.toPrecision(3)}`
          : "",
      ),
      pCell(separation?.likelihoodRatio),
      textCell(""),
    ],
  };
}

function pCell(test: Answer<ModelTest> | undefined) {
  if (test === undefined) return textCell("");
  return test.computed ? { kind: "pValue" as const, p: test.p, restsOn: [] } : noCell(test);
}
