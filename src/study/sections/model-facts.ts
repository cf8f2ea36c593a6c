import type { Answer } from "../../base/answer.ts";
import { capital } from "../../base/words.ts";
import type { Cell, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { CoxFit, ModelTest } from "../../regression/cox-result.ts";
import type { Adjusted } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { noCell, textCell } from "./cells.ts";

/** What the model was made from, how the iteration went, and what a reader must know before quoting it. */
export function modelFactsExhibit(found: Adjusted, facts: StudyFacts): TableExhibit {
  const { adjusted, alone, lost, rows } = found;
  const model = adjusted.computed ? adjusted : alone;
  return {
    kind: "table",
    id: "model-facts",
    title: "What the model rests on",
    columns: [
      { id: "item", label: "Item" },
      { id: "value", label: "Value", align: "end" },
      { id: "degrees", label: "Degrees of freedom", align: "end" },
      { id: "p", label: "p", align: "end" },
    ],
    rows: [
      numberRow(
        `${capital(facts.words.unit.many)} in the model`,
        rows.sizes.reduce((sum, size) => sum + size.units, 0),
      ),
      ...lost.map(({ term, reason, rows: gone }) => numberRow(`Left out: ${term}, ${reason}`, gone)),
      ...(model.computed ? fitRows(model.fit, facts) : [plainRow("Model", noCell(model))]),
      ...checkRows(found),
    ],
    notes: model.computed
      ? [
          "Values of tests are chi-squares: likelihood ratio, score and Wald.",
          ...model.fit.notes.map(({ text }) => capital(`${text}.`)),
        ]
      : [],
  };
}

function fitRows(fit: CoxFit, facts: StudyFacts): TableRow[] {
  return [
    numberRow(capital(facts.words.event.many), fit.events),
    numberRow("Coefficients", fit.parameters),
    numberRow(`${capital(facts.words.event.many)} for each coefficient`, fit.eventsPerParameter, 1),
    answeredRow("All terms together, by the likelihood", fit.likelihoodRatio),
    answeredRow("All terms together, by the score", fit.score),
    answeredRow("All terms together, by the estimates", fit.wald),
    plainRow(
      "Iteration",
      textCell(
        `${fit.fit.converged ? "converged" : "NOT CONVERGED"} in ${fit.fit.iterations} step${fit.fit.iterations === 1 ? "" : "s"}`,
      ),
    ),
  ];
}

function checkRows(found: Adjusted): TableRow[] {
  const checks = found.checks();
  if (!checks.computed) return [];
  const { change, concordance, influence } = checks;
  return [
    change.computed && change.all.computed
      ? testRow(CONSTANT, change.all)
      : plainRow(
          CONSTANT,
          noCell(change.computed && !change.all.computed ? change.all : change.computed ? NONE : change),
        ),
    concordance.computed
      ? numberRow(ORDER, concordance.concordance, 3)
      : plainRow(ORDER, noCell(concordance)),
    influence.computed
      ? numberRow(
          `Largest change by one ${influence.by}, in standard errors`,
          // One for each row where rows are independent: too many to spread into arguments.
          influence.largest.reduce((most, one) => Math.max(most, one), 0),
          2,
        )
      : plainRow("Largest change by one unit", noCell(influence)),
  ];
}

const CONSTANT = "Are the ratios constant over time? All terms";
/** Of two, one with the event: how often the model has it at the higher risk. */
const ORDER = "Pairs that the model puts in the right order (concordance)";
const NONE = { computed: false, code: "none", because: "no test" } as const;

function numberRow(label: string, value: number, decimals = 0): TableRow {
  return plainRow(label, { kind: "number", value, decimals, restsOn: [] });
}

function plainRow(label: string, cell: Cell): TableRow {
  return { label, cells: [cell, textCell(""), textCell("")] };
}

function answeredRow(label: string, test: Answer<ModelTest>): TableRow {
  return test.computed ? testRow(label, test) : plainRow(label, noCell(test));
}

function testRow(label: string, { chiSquare, degreesOfFreedom, degreesBeneath, p }: ModelTest): TableRow {
  // Over few clusters p comes from F, whose lower degrees of freedom a reader needs to find it again.
  const beneath = degreesBeneath === null ? "" : ` and ${Number(degreesBeneath.toFixed(2))} (F)`;
  return {
    label,
    cells: [
      { kind: "number", value: chiSquare, decimals: 2, restsOn: [] },
      textCell(`${degreesOfFreedom}${beneath}`),
      { kind: "pValue", p, restsOn: [] },
    ],
  };
}
