import type { Column } from "../base/column.ts";
import { ArgumentError, UsageError } from "../base/errors.ts";
import type { Cases } from "../cases/cases.ts";
import type { ModelMatrix } from "../regression/model-matrix.ts";
import { modelMatrix } from "../regression/model-terms.ts";
import { categoryTerm } from "../regression/term-category.ts";
import { curveTerm } from "../regression/term-curve.ts";
import { numberTerm } from "../regression/term-number.ts";
import type { TermPlan } from "../regression/term-plan.ts";
import { namedColumn } from "../technique/named-column.ts";
import { fieldTitle } from "../technique/step-states.ts";
import { adjusterColumn, groupColumn } from "./compared-columns.ts";
import type { StudyFacts } from "./facts.ts";
import type { StudyObservations } from "./observations.ts";
import type { Adjuster } from "./plan.ts";

const GROUP_FIELD = "the groups compared";
/** The step of a straight line, so that its ratio can be read: ten years of age, five of body mass. */
const STEPS: Readonly<Record<string, { readonly per: number; readonly unit: string }>> = {
  "role:ageYears": { per: 10, unit: "years" },
  "role:bmi": { per: 5, unit: "kg/m²" },
  "role:operationDate": { per: 5, unit: "years" },
};

/** Columns of the adjusted model: the groups first, with the first group as the reference, then the adjusters. */
export function adjustedMatrix(
  cases: Cases,
  compared: StudyObservations,
  facts: StudyFacts,
): { readonly matrix: ModelMatrix; readonly groupTerm: string } {
  const { adjusters = [] } = facts.plan;
  const columns = [
    groupColumn(compared, GROUP_FIELD),
    ...adjusters.map((adjuster) => adjusterColumn(cases, compared, adjuster)),
  ];
  const groupTerm = facts.exposureTitle;
  const terms = [
    categoryTerm(GROUP_FIELD, { reference: facts.groups[0] ?? "", word: groupTerm }),
    ...adjusters.map((adjuster, at) => termOf(cases, adjuster, columns[at + 1] ?? columns[0])),
  ];
  return { matrix: built(columns, terms), groupTerm };
}

/** The same rows with the groups alone: what the adjusted ratio is set beside. */
export function groupsAlone(matrix: ModelMatrix): ModelMatrix {
  const [term] = matrix.terms;
  return { ...matrix, columns: matrix.columns.slice(0, term?.columns), terms: matrix.terms.slice(0, 1) };
}

function built(columns: readonly Column[], terms: readonly TermPlan[]): ModelMatrix {
  try {
    return modelMatrix(columns, terms);
  } catch (error) {
    // What is wrong lies in the plan and the export together, not in the call.
    if (error instanceof ArgumentError) throw new UsageError("adjusters", `adjusters: ${error.message}`);
    throw error;
  }
}

function termOf(cases: Cases, adjuster: Adjuster, column: Column | undefined): TermPlan {
  const { field, curve, reference } = adjuster;
  const word = fieldTitle(cases, namedColumn(cases, field, "adjusters").field);
  if (column?.kind === "code") {
    if (curve) throw refused(field, "holds codes, which have no curve; leave curve out");
    return categoryTerm(field, { reference: reference ?? column.codes[0] ?? "", word });
  }
  if (reference !== undefined)
    throw refused(field, "holds numbers, which have no reference; leave reference out");
  if (curve) return curveTerm(field, { word });
  return numberTerm(field, { ...STEPS[field], word });
}

function refused(field: string, what: string): UsageError {
  return new UsageError("adjuster-form", `adjusters: field "${field}" ${what}`);
}
