/**
 * How often a difference that was planted is found, by drawing exports, and what the closed formulas say.
 *
 *   node --import tsx tests/simulation/power.ts
 *
 * Takes a few minutes and rewrites power.json beside this file; Ctrl-C stops it and writes nothing. Not run by the tests.
 */
import { writeFileSync } from "node:fs";
import { type RandomStream, randomStreams } from "../../src/base/random-streams.ts";
import { simulatedPower } from "../../src/planning/simulated-power.ts";
import { DESIGNS, type Design, formulaPower, knees, pOf } from "./power-designs.ts";

const SEED = 20_261_126;
const REPLICATES = 200;

const stop = new AbortController();
process.once("SIGINT", () => stop.abort());

const streams = randomStreams(SEED);
const table = [];
for (const design of DESIGNS) {
  let events = 0;
  const answer = await simulatedPower({
    draw: (stream: RandomStream) => {
      const drawn = knees(design, stream.below(2_000_000_000));
      events += drawn.events;
      return drawn;
    },
    analyse: ({ observations }) => pOf(design, observations),
    replicates: REPLICATES,
    streams,
    name: design.name,
    signal: stop.signal,
    progress: (done, all) => {
      if (process.stderr.isTTY) process.stderr.write(`\r${design.name}: ${done} of ${all} `);
    },
  });
  if (answer.interrupted) {
    process.stderr.write("\nstopped; nothing was written\n");
    process.exit(130);
  }
  table.push(rowOf(design, answer, Number((events / REPLICATES).toFixed(1))));
  if (process.stderr.isTTY) process.stderr.write("\n");
}

writeFileSync(
  new URL("./power.json", import.meta.url),
  `${JSON.stringify({ seed: SEED, level: 0.05, table }, null, 2)}\n`,
);
for (const { name, power, monteCarloError, schoenfeld, freedman } of table) {
  console.log(
    `${name}: ${power.toFixed(3)} ± ${monteCarloError.toFixed(3)}; Schoenfeld ${schoenfeld.toFixed(3)}, Freedman ${freedman.toFixed(3)}`,
  );
}

function rowOf(design: Design, answer: Awaited<ReturnType<typeof simulatedPower>>, meanEvents: number) {
  const { power, monteCarloError, replicates, rejected, withoutAnswer } = answer;
  if (power === null || monteCarloError === null) throw new Error("replicates were drawn");
  return {
    name: design.name,
    question: design.question,
    formulaHolds: design.formulaHolds,
    nearOne: design.nearOne,
    replicates,
    rejected,
    withoutAnswer,
    power,
    monteCarloError: Number(monteCarloError.toFixed(4)),
    meanEvents,
    schoenfeld: formulaPower(design, meanEvents, "schoenfeld"),
    freedman: formulaPower(design, meanEvents, "freedman"),
  };
}
