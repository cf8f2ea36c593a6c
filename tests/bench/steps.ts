import { join } from "node:path";
import tourniquet from "../../notebooks/tourniquet-and-loosening.ts";
import type { Answer } from "../../src/base/answer.ts";
import { checkCases } from "../../src/cases/check-cases.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import type { Endpoint } from "../../src/cohort/endpoint.ts";
import { followUp } from "../../src/cohort/follow-up.ts";
import { selectCohort } from "../../src/cohort/select-cohort.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import { reportFiles } from "../../src/study/making/report-files.ts";
import { notebookSource } from "../../src/study/notebook/notebook-source.ts";
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
import type { BenchStep } from "./bench-step.ts";
import { observationColumns, readColumns } from "./invented-follow-up.ts";
import { MODEL_STEPS } from "./model-steps.ts";

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
  ...MODEL_STEPS,
  mainReport("main report, demo export", "demo"),
  mainReport("main report, 40 columns", "wide"),
] as const;

function yearValue(answer: Answer<YearValue> | undefined): number {
  return answer?.computed ? answer.value : 0;
}
