/**
 * How long the main steps take, beside R on the same data.
 *
 *   npm run bench
 *   npm run bench -- --knees 1000000 --repeats 3 --json bench.json
 *   npm run bench -- --steps "hazard ratios"
 *
 * Each step runs in a process of its own. Cold is the first run of the process and is what the ratio compares with R,
 * whose packages are compiled when they are installed; warm is the fastest of the runs after it. With several repeats
 * the fastest of each is kept, in R as well: a busy machine only ever slows. Nothing is written unless --json names a
 * file; invented data go to a folder that is removed at the end.
 */
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { cpus, loadavg, tmpdir, totalmem } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import type { BenchStep } from "./bench-step.ts";
import { benchTable, type MeasuredStep } from "./bench-table.ts";
import { writeCovariates } from "./invented-covariates.ts";
import { writeInventedExports } from "./invented-export.ts";
import { inventedFollowUp, writeColumns } from "./invented-follow-up.ts";
import { R_SECONDS, type RAnswer, runInR, versionOfR } from "./r-side.ts";
import type { StepTimes } from "./run-step.ts";
import { STEPS } from "./steps.ts";

const DEMO = join(import.meta.dirname, "../../data/demo");

const { values: options } = parseArgs({
  options: {
    knees: { type: "string", default: "1000000,5000000" },
    repeats: { type: "string", default: "3" },
    json: { type: "string" },
    /** Steps whose name holds this. */
    steps: { type: "string", default: "" },
  },
});
const asked = STEPS.filter(({ name }) => name.includes(options.steps));
const sizes = options.knees.split(",").map(Number);
const repeats = Number(options.repeats);
const r = versionOfR();
const scratch = mkdtempSync(join(tmpdir(), "bench-"));
try {
  const measured = sizes.flatMap(measureSize);
  console.log(machineState());
  console.log(benchTable(measured));
  if (options.json !== undefined) {
    writeFileSync(options.json, `${JSON.stringify({ machine: machineState(), measured }, null, 2)}\n`);
  }
} finally {
  rmSync(scratch, { recursive: true });
}

function measureSize(knees: number): MeasuredStep[] {
  const folders = writeData(knees);
  // The demo export has a size of its own, so it is measured once.
  const steps = asked.filter(
    (step: { mostKnees?: number; data: string }) =>
      knees <= (step.mostKnees ?? knees) && (step.data !== "demo" || knees === sizes[0]),
  );
  return steps.map((step) => {
    process.stderr.write(`${knees} knees: ${step.name}\n`);
    return measureStep(step, folders[step.data], knees);
  });
}

function writeData(knees: number): Record<BenchStep["data"], string> {
  process.stderr.write(`${knees} knees: inventing data\n`);
  const [columns, narrow, middle, wide] = ["columns", "narrow", "middle", "wide"].map((name) =>
    join(scratch, `${name}-${knees}`),
  ) as [string, string, string, string];
  mkdirSync(columns);
  writeColumns(columns, inventedFollowUp(knees));
  writeCovariates(columns, knees);
  const needsExport = asked.some(
    (step: { mostKnees?: number; data: string }) =>
      ["narrow", "middle", "wide"].includes(step.data) && knees <= (step.mostKnees ?? knees),
  );
  if (needsExport) writeInventedExports(knees, { wide, middle, narrow });
  return { columns, narrow, middle, wide, demo: DEMO };
}

function measureStep(
  step: Pick<BenchStep, "name" | "parts" | "data"> & { readonly script?: string },
  folder: string,
  knees: number,
): MeasuredStep {
  const ours: StepTimes[] = [];
  const theirs: RAnswer[] = [];
  for (let repeat = 0; repeat < repeats; repeat += 1) {
    ours.push(inOwnProcess(step.name, folder));
    if (r === undefined || step.script === undefined) continue;
    theirs.push(runInR(step.script, folder));
    if (theirs.at(-1)?.finished === false) break;
  }
  return {
    name: step.name,
    knees: step.data === "demo" ? undefined : knees,
    parts: step.parts,
    cold: fastest(ours.map(({ cold }) => cold)),
    warm: fastest(ours.map(({ warm }) => warm)),
    megabytes: Math.min(...ours.map(({ megabytes }) => megabytes)),
    answer: ours[0]?.answer ?? 0,
    inR: theirs.reduce<RAnswer | undefined>(better, undefined),
  };
}

function inOwnProcess(name: string, folder: string): StepTimes {
  const script = join(import.meta.dirname, "run-step.ts");
  const printed = execFileSync(process.execPath, ["--import", "tsx", script, name, folder], {
    encoding: "utf8",
  });
  return JSON.parse(printed);
}

function fastest(runs: readonly StepTimes["cold"][]): StepTimes["cold"] {
  return runs.reduce((best, one) => (one.first + one.second < best.first + best.second ? one : best));
}

function better(best: RAnswer | undefined, one: RAnswer): RAnswer {
  if (best === undefined || !best.finished) return best ?? one;
  return one.finished && one.seconds < best.seconds ? one : best;
}

function machineState(): string {
  const [load = 0] = loadavg();
  return [
    `${cpus().length} cores, ${Math.round(totalmem() / 1e9)} GB, load ${load.toFixed(1)} at the end, Node ${process.version}`,
    r === undefined
      ? "Rscript is not installed, so nothing is compared (Debian: r-base-core r-cran-survival r-cran-cmprsk)"
      : `${r}; R has ${R_SECONDS} s a step`,
    `fastest of ${repeats} repeats; "of R" is the time of R over our cold time, both parts together`,
  ].join("\n");
}
