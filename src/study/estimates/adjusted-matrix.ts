import { type Answer, computed, notComputed } from "../../base/answer.ts";
import type { CodeColumn, Column } from "../../base/column.ts";
import { ArgumentError } from "../../base/errors.ts";
import type { Cases } from "../../cases/cases.ts";
import type { ModelMatrix } from "../../regression/model-matrix.ts";
import { modelMatrix } from "../../regression/model-terms.ts";
import { categoryTerm } from "../../regression/term-category.ts";
import { curveTerm } from "../../regression/term-curve.ts";
import { numberTerm } from "../../regression/term-number.ts";
import type { TermPlan } from "../../regression/term-plan.ts";
import { namedColumn } from "../../technique/named-column.ts";
import { fieldTitle } from "../../technique/step-states.ts";
import type { StudyFacts } from "../facts.ts";
import type { StudyObservations } from "../observations.ts";
import type { Adjuster } from "../plan/plan.ts";
import { adjusterColumn, groupColumn } from "./compared-columns.ts";

const GROUP_FIELD = "the groups compared";
/** The step of a straight line, so that its ratio can be read: ten years of age, five of body mass. */
const STEPS: Readonly<Record<string, { readonly per: number; readonly unit: string }>> = {
  "role:ageYears": { per: 10, unit: "years" },
  "role:bmi": { per: 5, unit: "kg/m²" },
  "role:operationDate": { per: 5, unit: "years" },
};

export interface AdjustedMatrix {
  readonly matrix: ModelMatrix;
  readonly groupTerm: string;
}

/** Columns of the adjusted model: the groups first, with the first group as the reference, then the adjusters. */
export function adjustedMatrix(
  cases: Cases,
  compared: StudyObservations,
  facts: StudyFacts,
): Answer<AdjustedMatrix> {
  const { adjusters = [] } = facts.plan;
  const columns = adjusters.map((adjuster) => adjusterColumn(cases, compared, adjuster));
  const terms = adjusters.map((adjuster, at) => termOf(cases, adjuster, columns[at]));
  return built(compared, columns, terms, facts);
}

/** The groups alone, on every row compared. */
export function groupMatrix(compared: StudyObservations, facts: StudyFacts): Answer<AdjustedMatrix> {
  return built(compared, [], [], facts);
}

/** The same rows with the groups alone: what the adjusted ratio is set beside. */
export function groupsAlone(matrix: ModelMatrix): ModelMatrix {
  const [term] = matrix.terms;
  return { ...matrix, columns: matrix.columns.slice(0, term?.columns), terms: matrix.terms.slice(0, 1) };
}

function built(
  compared: StudyObservations,
  columns: readonly Column[],
  terms: readonly TermPlan[],
  facts: StudyFacts,
): Answer<AdjustedMatrix> {
  const groupTerm = facts.exposureTitle;
  const group = categoryTerm(GROUP_FIELD, { reference: facts.groups[0] ?? "", word: groupTerm });
  try {
    const matrix = modelMatrix([groupColumn(compared, GROUP_FIELD), ...columns], [group, ...terms]);
    return computed({ matrix, groupTerm });
  } catch (error) {
    // The plan was checked before: what is left is that missing values have emptied a group or a level.
    if (!(error instanceof ArgumentError)) throw error;
    return notComputed(
      "values-missing",
      "among those with every value recorded a group, or all but one level of an adjuster, is empty",
    );
  }
}

function termOf(cases: Cases, adjuster: Adjuster, column: Column | undefined): TermPlan {
  const { field, curve, reference } = adjuster;
  const word = fieldTitle(cases, namedColumn(cases, field, "adjusters").field);
  if (column?.kind === "code") {
    return categoryTerm(field, { reference: reference ?? firstOccurring(column), word });
  }
  if (curve) return curveTerm(field, { word });
  return numberTerm(field, { ...STEPS[field], word });
}

/** The first code of the dictionary that occurs among those compared. */
function firstOccurring({ codes, values, missing }: CodeColumn): string {
  const occurs = codes.findIndex((_code, at) =>
    values.some((value, row) => value === at && missing[row] === 0),
  );
  return codes[Math.max(0, occurs)] ?? "";
}
