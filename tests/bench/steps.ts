import { join } from "node:path";
import tourniquet from "../../notebooks/tourniquet-and-loosening.ts";
import type { Answer } from "../../src/base/answer.ts";
import { checkCases } from "../../src/cases/check-cases.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import type { Endpoint } from "../../src/cohort/endpoint.ts";
import { followUp } from "../../src/cohort/follow-up.ts";
import { selectCohort } from "../../src/cohort/select-cohort.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { CoxOptions } from "../../src/regression/cox-options.ts";
import { coxRegression } from "../../src/regression/cox-regression.ts";
import type { CoxFit } from "../../src/regression/cox-result.ts";
import { fineGrayRegression } from "../../src/regression/fine-gray-regression.ts";
import type { ModelMatrix } from "../../src/regression/model-matrix.ts";
import { proportionalHazardsCheck } from "../../src/regression/proportional-hazards-check.ts";
import { notebookSource } from "../../src/study/notebook-source.ts";
import { reportFiles } from "../../src/study/report-files.ts";
import { runStudy } from "../../src/study/run.ts";
import { checkObservations } from "../../src/survival/check-observations.ts";
import { clusteredLogRank } from "../../src/survival/clustered-log-rank.ts";
import type { CountsByTime } from "../../src/survival/counts.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { cumulativeIncidence } from "../../src/survival/cumulative-incidence.ts";
import { grayTest } from "../../src/survival/gray-test.ts";
import { kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import { logRankTest } from "../../src/survival/log-rank-test.ts";
import type { ObservationColumns, Observations } from "../../src/survival/observations.ts";
import type { YearValue } from "../../src/survival/results.ts";
import { yearDifference } from "../../src/survival/year-difference.ts";
import { readCovariates } from "./invented-covariates.ts";
import { observationColumns, readColumns } from "./invented-follow-up.ts";

/** Work in two parts that are timed apart: making the counts (or reading), and what is done with them. */
export interface BenchStep<Input = unknown, Between = unknown> {
  readonly name: string;
  readonly parts: readonly [string, string];
  /** Which of the folders of invented data it works on. */
  readonly data: "columns" | "narrow" | "middle" | "wide" | "demo";
  /** Script in scripts/ that does the same work in R. */
  readonly script?: string;
  /** Left out above this many knees. */
  readonly mostKnees?: number;
  /** Runs after the first one. */
  readonly warmRuns: number;
  /** Not timed. */
  readonly load: (folder: string) => Input;
  readonly first: (input: Input) => Between | Promise<Between>;
  /** Gives one number, to be compared with the same number from R. */
  readonly second: (between: Between, input: Input) => number;
}

const YEAR = 10;
const ONE_READING = 1_000_000;

const REVISION_OR_DEATH: Endpoint = {
  event: { label: "revision", revisionFor: "any" },
  competing: [{ label: "death", death: true }],
  censoring: "dataCut",
};

const onCounts = (
  name: string,
  script: string,
  second: (counts: CountsByTime) => number,
): BenchStep<ObservationColumns, CountsByTime> => ({
  name,
  parts: ["counts", "estimator"],
  data: "columns",
  script,
  warmRuns: 4,
  load: (folder) => observationColumns(readColumns(folder)),
  first: countsByTime,
  second,
});

const onRows = (
  name: string,
  second: (observations: Observations) => number,
): BenchStep<ObservationColumns, Observations> => ({
  name,
  parts: ["checked rows", "estimator"],
  data: "columns",
  mostKnees: ONE_READING,
  warmRuns: 2,
  load: (folder) => observationColumns(readColumns(folder)),
  first: checkObservations,
  second,
});

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

function hazardModel(
  observations: Observations,
  matrix: ModelMatrix,
  variance: NonNullable<CoxOptions["variance"]>,
): CoxFit {
  const fit = coxRegression(observations, matrix, { event: ["revision"], variance });
  if (!fit.computed) throw new Error(fit.because);
  return fit;
}

const mainReport = (name: string, data: "demo" | "wide"): BenchStep => ({
  name,
  parts: ["run", "disclose, render"],
  data,
  mostKnees: ONE_READING,
  warmRuns: 1,
  load: (folder) => ({
    ...notebookSource(join(import.meta.dirname, "../../notebooks/tourniquet-and-loosening.ts")),
    otherExport: join(folder, "datapackage.json"),
  }),
  // `load` gives a notebook's source and `first` a run: the step's own types.
  first: (input) => runStudy(tourniquet, input as ReturnType<typeof notebookSource>),
  second: (between) => {
    const run = between as Awaited<ReturnType<typeof runStudy>>;
    return reportFiles(run, disclose(run.exhibits, "committee")).size;
  },
});

/** Everything that is timed, in the order of the table. */
export const STEPS = [
  {
    name: "read 12 columns, derive follow-up",
    parts: ["read", "follow-up"],
    data: "narrow",
    script: "read-and-follow-up.R",
    mostKnees: ONE_READING,
    warmRuns: 2,
    load: (folder) => join(folder, "datapackage.json"),
    first: readCases,
    second: (cases) => {
      const { exit } = followUp(cases, selectCohort(cases, []), REVISION_OR_DEATH);
      return exit.reduce((days, one) => days + one, 0);
    },
  } satisfies BenchStep<string, Awaited<ReturnType<typeof readCases>>>,
  {
    name: "read 22 columns, check every rule",
    parts: ["read", "rules"],
    data: "middle",
    script: "read-columns.R",
    mostKnees: ONE_READING,
    warmRuns: 2,
    load: (folder) => join(folder, "datapackage.json"),
    first: readCases,
    // Every record that R finds, less those that break a rule: the invented export has none.
    second: (cases) => cases.rows - checkCases(cases).errors,
  } satisfies BenchStep<string, Awaited<ReturnType<typeof readCases>>>,
  {
    name: "read 40 columns, check every rule",
    parts: ["read", "rules"],
    data: "wide",
    mostKnees: ONE_READING,
    warmRuns: 1,
    load: (folder) => join(folder, "datapackage.json"),
    first: readCases,
    second: (cases) => checkCases(cases).errors,
  } satisfies BenchStep<string, Awaited<ReturnType<typeof readCases>>>,
  onCounts("Kaplan–Meier, 3 groups, intervals", "kaplan-meier.R", (counts) => {
    const curve = kaplanMeier(counts, { event: ["revision"], years: [YEAR] });
    return yearValue(curve.groups[0]?.atYears[0]);
  }),
  onCounts("log-rank, 3 groups", "log-rank.R", (counts) => {
    const test = logRankTest(counts, { event: ["revision"] });
    return test.computed ? test.chiSquare : 0;
  }),
  onCounts("incidence, variance, 3 groups", "incidence.R", (counts) => {
    const { curves } = cumulativeIncidence(counts, { years: [YEAR] });
    return yearValue(curves[0]?.atYears[0]);
  }),
  onCounts("Gray's test, 3 groups", "gray-test.R", (counts) => {
    const test = grayTest(counts, { cause: "revision" });
    return test.computed ? test.chiSquare : 0;
  }),
  onRows("clustered log-rank, 3 groups", (observations) => {
    const test = clusteredLogRank(observations, { event: ["revision"] });
    return test.computed ? test.chiSquare : 0;
  }),
  onRows("clustered difference at 10 years", (observations) => {
    const [answer] = yearDifference(observations, { measure: "incidence", cause: "revision", years: [YEAR] });
    return answer?.computed ? answer.standardError : 0;
  }),
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
    load: (folder) => {
      const { columns, matrix } = loadModel(folder);
      return { observations: checkObservations(columns), matrix };
    },
    first: ({ observations, matrix }) => hazardModel(observations, matrix, "model"),
    second: (fit, { observations, matrix }) => {
      const check = proportionalHazardsCheck(observations, matrix, fit);
      return check.computed && check.all.computed ? check.all.chiSquare : 0;
    },
  } satisfies BenchStep<{ observations: Observations; matrix: ModelMatrix }, CoxFit>,
  mainReport("main report, demo export", "demo"),
  mainReport("main report, 40 columns", "wide"),
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

function yearValue(answer: Answer<YearValue> | undefined): number {
  return answer?.computed ? answer.value : 0;
}
