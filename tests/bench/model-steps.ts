import type { CoxOptions } from "../../src/regression/cox-options.ts";
import { coxRegression } from "../../src/regression/cox-regression.ts";
import type { CoxFit } from "../../src/regression/cox-result.ts";
import { fineGrayRegression } from "../../src/regression/fine-gray-regression.ts";
import { frailtyRegression } from "../../src/regression/frailty-regression.ts";
import { hazardRatiosByPeriod } from "../../src/regression/hazard-ratios-by-period.ts";
import type { ModelMatrix } from "../../src/regression/model-matrix.ts";
import { penalisedCox } from "../../src/regression/penalised-cox.ts";
import { proportionalHazardsCheck } from "../../src/regression/proportional-hazards-check.ts";
import { standardisedCurves } from "../../src/regression/standardised-curves.ts";
import { checkObservations } from "../../src/survival/check-observations.ts";
import type { ObservationColumns, Observations } from "../../src/survival/observations.ts";
import type { BenchStep } from "./bench-step.ts";
import { readCovariates } from "./invented-covariates.ts";
import { observationColumns, readColumns } from "./invented-follow-up.ts";

const YEAR = 10;
const ONE_READING = 1_000_000;
/** Three and five years, in days. */
const PERIOD_ENDS = [1095, 1826];

interface ModelInput {
  readonly columns: ObservationColumns;
  readonly matrix: ModelMatrix;
}

const onModel = (
  name: string,
  script: string,
  variance: NonNullable<CoxOptions["variance"]>,
  answer: (fit: CoxFit) => number,
): BenchStep<ModelInput, Observations> => ({
  name,
  parts: ["checked rows", "fit"],
  data: "columns",
  script,
  warmRuns: 2,
  load: loadModel,
  first: ({ columns }) => checkObservations(columns),
  second: (observations, { matrix }) => answer(hazardModel(observations, matrix, variance)),
});

function loadModel(folder: string): ModelInput {
  return { columns: observationColumns(readColumns(folder)), matrix: readCovariates(folder) };
}

interface CheckedInput {
  readonly observations: Observations;
  readonly matrix: ModelMatrix;
}

function loadChecked(folder: string): CheckedInput {
  const { columns, matrix } = loadModel(folder);
  return { observations: checkObservations(columns), matrix };
}

function firstColumns(matrix: ModelMatrix, count: number): ModelMatrix {
  return { ...matrix, columns: matrix.columns.slice(0, count), terms: matrix.terms.slice(0, count) };
}

/** The first column as if it were the same in every row. */
function asIf(matrix: ModelMatrix, value: number): ModelMatrix {
  const columns = matrix.columns.map((column, at) =>
    at > 0 ? column : { ...column, values: new Float64Array(column.values.length).fill(value) },
  );
  return { ...matrix, columns };
}

function hazardModel(
  observations: Observations,
  matrix: ModelMatrix,
  variance: NonNullable<CoxOptions["variance"]>,
): CoxFit {
  const fit = coxRegression(observations, matrix, { event: ["revision"], variance });
  if (!fit.computed) throw new Error(fit.because);
  return fit;
}

/** What is timed of the regression models, in the order of the table. */
export const MODEL_STEPS = [
  {
    name: "Fine–Gray, 10 covariates",
    parts: ["checked rows", "fit, variance"],
    data: "columns",
    script: "fine-gray.R",
    warmRuns: 1,
    load: (folder) => {
      const columns = observationColumns(readColumns(folder));
      return { columns, matrix: tenColumns(columns.exit.length) };
    },
    first: ({ columns }) => checkObservations(columns),
    second: (observations, { matrix }) => {
      const fit = fineGrayRegression(observations, matrix, { cause: "revision", variance: "robust" });
      const [first] = fit.computed ? fit.columns : [];
      return first?.coefficient.computed ? first.coefficient.standardError : 0;
    },
  } satisfies BenchStep<{ columns: ObservationColumns; matrix: ModelMatrix }, Observations>,
  onModel("hazard ratios, 10 covariates", "cox.R", "model", ({ columns: [first] }) =>
    first?.hazardRatio.computed ? first.hazardRatio.ratio : 0,
  ),
  onModel("the same, clustered", "cox-clustered.R", "clustered", ({ columns: [first] }) =>
    first?.hazardRatio.computed ? first.hazardRatio.standardError : 0,
  ),
  {
    name: "proportional-hazards check",
    parts: ["fit", "check"],
    data: "columns",
    script: "proportional-hazards.R",
    warmRuns: 2,
    // Checked once: a check of a fit is given the very rows that the fit was given.
    load: loadChecked,
    first: ({ observations, matrix }) => hazardModel(observations, matrix, "model"),
    second: (fit, { observations, matrix }) => {
      const check = proportionalHazardsCheck(observations, matrix, fit);
      return check.computed && check.all.computed ? check.all.chiSquare : 0;
    },
  } satisfies BenchStep<CheckedInput, CoxFit>,
  {
    name: "hazard ratios by period, 10 covariates",
    parts: ["fit", "by period"],
    data: "columns",
    script: "periods.R",
    mostKnees: ONE_READING,
    warmRuns: 1,
    load: loadChecked,
    first: ({ observations, matrix }) => hazardModel(observations, matrix, "clustered"),
    second: (average, { observations, matrix }) => {
      const options = { event: ["revision"], variance: "clustered", term: "covariate 1" } as const;
      const ratios = hazardRatiosByPeriod(observations, matrix, { ...options, cuts: PERIOD_ENDS, average });
      const ratio = ratios.computed ? ratios.periods[0]?.columns[0]?.hazardRatio : undefined;
      return ratio?.computed ? ratio.ratio : 0;
    },
  } satisfies BenchStep<CheckedInput, CoxFit>,
  {
    name: "net risks standardised over the cohort",
    parts: ["fit", "risks"],
    data: "columns",
    mostKnees: ONE_READING,
    warmRuns: 1,
    load: loadChecked,
    first: ({ observations, matrix }) => hazardModel(observations, matrix, "clustered"),
    second: (fit, { observations, matrix }) => {
      const groups = [0, 1].map((value) => ({ label: String(value), matrix: asIf(matrix, value) }));
      const curves = standardisedCurves(observations, matrix, fit, { groups, years: [5, YEAR] });
      const difference =
        curves.computed && curves.years[1]?.computed ? curves.years[1].differences[0] : undefined;
      return difference?.computed ? difference.standardError : 0;
    },
  } satisfies BenchStep<CheckedInput, CoxFit>,
  {
    name: "shared frailty, 5 covariates",
    parts: ["checked rows", "fit, limits"],
    data: "columns",
    script: "frailty.R",
    mostKnees: ONE_READING,
    warmRuns: 0,
    load: (folder) => {
      const { columns, matrix } = loadModel(folder);
      return { columns, matrix: firstColumns(matrix, 5) };
    },
    first: ({ columns }) => checkObservations(columns),
    second: (observations, { matrix }) => {
      const fit = frailtyRegression(observations, matrix, { event: ["revision"] });
      const first = fit.computed ? fit.columns[0]?.hazardRatio : undefined;
      return first?.computed ? first.ratio : 0;
    },
  } satisfies BenchStep<ModelInput, Observations>,
  {
    name: "penalised hazard ratio, 5 covariates",
    parts: ["checked rows", "fit, limits"],
    data: "columns",
    mostKnees: ONE_READING,
    warmRuns: 0,
    load: (folder) => {
      // Rows must be independent.
      const { columns, matrix } = loadModel(folder);
      const { cluster: _, ...independent } = columns;
      return { columns: independent, matrix: firstColumns(matrix, 5) };
    },
    first: ({ columns }) => checkObservations(columns),
    second: (observations, { matrix }) => {
      const options = { event: ["revision"], terms: ["covariate 1"] };
      const fit = penalisedCox(observations, matrix, options);
      const first = fit.computed ? fit.columns[0]?.coefficient : undefined;
      return first?.computed ? Math.exp(first.estimate) : 0;
    },
  } satisfies BenchStep<ModelInput, Observations>,
] as const;

/** Ten columns without effect, five of them continuous. The scripts of R make columns of the same kind. */
function tenColumns(rows: number): ModelMatrix {
  const columns = Array.from({ length: 10 }, (_, at) => {
    const values = new Float64Array(rows);
    // Whole numbers from a linear congruence, which R computes alike.
    let state = at + 1;
    for (let row = 0; row < rows; row += 1) {
      state = (state * 48_271) % 2_147_483_647;
      values[row] = at < 5 ? state / 2_147_483_647 : state % 2;
    }
    return { name: `column ${at + 1}`, values };
  });
  const terms = columns.map(({ name }, from) => ({ name, kind: "number" as const, from, columns: 1 }));
  return { rows: Int32Array.from({ length: rows }, (_, row) => row), columns, terms, lost: [] };
}
