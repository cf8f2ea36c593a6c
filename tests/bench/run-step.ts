/**
 * Runs one step in a process of its own, so that neither memory nor warmed-up code comes from another.
 *
 *   node --import tsx tests/bench/run-step.ts STEP FOLDER
 *
 * Prints the times as one line of JSON.
 */
import { pathToFileURL } from "node:url";
import type { BenchStep } from "./bench-step.ts";
import { STEPS } from "./steps.ts";

/** Seconds of the two parts of a step. */
export interface PartTimes {
  readonly first: number;
  readonly second: number;
}

export interface StepTimes {
  /** The first run of the process: modules are loaded, but no code is compiled yet. */
  readonly cold: PartTimes;
  /** The fastest of the runs after it. */
  readonly warm: PartTimes;
  /** Most memory the process ever held, in millions of bytes: Node itself and the input included. */
  readonly megabytes: number;
  readonly answer: number;
}

export async function timeStep(step: BenchStep, folder: string): Promise<StepTimes> {
  const input = step.load(folder);
  const cold = await timeOnce(step, input);
  let warm = cold;
  // Memory is that of the cold run: later runs may find the garbage of earlier ones.
  const megabytes = (process.resourceUsage().maxRSS * 1024) / 1e6;
  for (let run = 0; run < step.warmRuns; run += 1) {
    const again = await timeOnce(step, input);
    if (again.first + again.second < warm.first + warm.second) warm = again;
  }
  return { cold: partsOf(cold), warm: partsOf(warm), megabytes, answer: cold.answer };
}

async function timeOnce(step: BenchStep, input: unknown): Promise<PartTimes & { readonly answer: number }> {
  const started = performance.now();
  const between = await step.first(input);
  const halfway = performance.now();
  const answer = step.second(between, input);
  return { first: (halfway - started) / 1000, second: (performance.now() - halfway) / 1000, answer };
}

function partsOf({ first, second }: PartTimes): PartTimes {
  return { first, second };
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? "").href) {
  const [name, folder = ""] = process.argv.slice(2);
  const step = STEPS.find((one) => one.name === name);
  if (step === undefined) throw new Error(`no step is called ${name}`);
  // The list holds steps of several types; `first` and `second` of one step belong together.
  console.log(JSON.stringify(await timeStep(step as unknown as BenchStep, folder)));
}
