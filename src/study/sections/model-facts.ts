import { fixed, pValue } from "../../base/display.ts";
import { capital } from "../../base/words.ts";
import type { TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { CoxFit, ModelTest } from "../../regression/cox-result.ts";
import { noCell, textCell } from "../cells.ts";
import type { Adjusted } from "../estimates.ts";
import type { StudyFacts } from "../facts.ts";

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
    ],
    rows: [
      numberRow(
        `${capital(facts.words.unit.many)} in the model`,
        rows.sizes.reduce((sum, size) => sum + size.units, 0),
      ),
      ...lost.map(({ term, reason, rows: gone }) => numberRow(`Left out: ${term}, ${reason}`, gone)),
      ...(model.computed ? fitRows(model.fit, facts) : [{ label: "Model", cells: [noCell(model)] }]),
      ...checkRows(found),
    ],
    notes: model.computed ? model.fit.notes.map(({ text }) => capital(`${text}.`)) : [],
  };
}

function fitRows(fit: CoxFit, facts: StudyFacts): TableRow[] {
  return [
    numberRow(capital(facts.words.event.many), fit.events),
    numberRow("Coefficients", fit.parameters),
    numberRow(`${capital(facts.words.event.many)} for each coefficient`, fit.eventsPerParameter, 1),
    testRow("Likelihood-ratio test of all terms", fit.likelihoodRatio),
    testRow("Score test of all terms, model-based", fit.score),
    fit.wald.computed
      ? testRow("Wald test of all terms", fit.wald)
      : { label: "Wald test of all terms", cells: [noCell(fit.wald)] },
    {
      label: "Iteration",
      cells: [
        textCell(
          `${fit.fit.converged ? "converged" : "NOT CONVERGED"} in ${fit.fit.iterations} step${fit.fit.iterations === 1 ? "" : "s"}`,
        ),
      ],
    },
  ];
}

function checkRows(found: Adjusted): TableRow[] {
  const checks = found.checks();
  if (!checks.computed) return [];
  const { change, concordance, influence } = checks;
  return [
    change.computed && change.all.computed
      ? testRow("Are the ratios constant over time? All terms", change.all)
      : {
          label: "Are the ratios constant over time? All terms",
          cells: [
            noCell(change.computed && !change.all.computed ? change.all : change.computed ? NONE : change),
          ],
        },
    concordance.computed
      ? numberRow("Concordance", concordance.concordance, 3)
      : { label: "Concordance", cells: [noCell(concordance)] },
    influence.computed
      ? numberRow(
          `Largest change by one ${influence.by}, in standard errors`,
          // One for each row where rows are independent: too many to spread into arguments.
          influence.largest.reduce((most, one) => Math.max(most, one), 0),
          2,
        )
      : { label: "Largest change by one unit", cells: [noCell(influence)] },
  ];
}

const NONE = { computed: false, code: "none", because: "no test" } as const;

function numberRow(label: string, value: number, decimals = 0): TableRow {
  return { label, cells: [{ kind: "number", value, decimals, restsOn: [] }] };
}

function testRow(label: string, { chiSquare, degreesOfFreedom, degreesBeneath, p }: ModelTest): TableRow {
  // Over few clusters p comes from F, whose lower degrees of freedom a reader needs to find it again.
  const beneath = degreesBeneath === null ? "" : ` and ${degreesBeneath} (F)`;
  return {
    label,
    cells: [textCell(`${fixed(chiSquare, 2)} on ${degreesOfFreedom}${beneath}, p ${pValue(p)}`)],
  };
}
