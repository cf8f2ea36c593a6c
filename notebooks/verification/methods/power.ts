import { computed } from "../../../src/base/answer.ts";
import { randomStreams } from "../../../src/base/random-streams.ts";
import { powerOfEvents } from "../../../src/planning/power-of-events.ts";
import { simulatedPower } from "../../../src/planning/simulated-power.ts";
import { referenceRecord } from "../../../tests/reference/reference-files.ts";
import { EXACT, toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered } from "../curves.ts";
import { REFERENCES } from "../references.ts";

const SEED = 20_260_101;
const REPLICATES = 500;

/** Draws p-values evenly spread over 0 to 1: the test of a study without any effect. */
const simulated = await simulatedPower({
  draw: (stream) => stream.uniform(),
  analyse: (p) => computed({ p }),
  replicates: REPLICATES,
  streams: randomStreams(SEED),
  name: "no effect",
  level: 0.2,
});

export function powerChecks(): Method {
  return {
    id: "power",
    title: "Power by formula and by simulation",
    functions: ["powerOfEvents", "simulatedPower"],
    examples: [hundredEvents(), counted()],
  };
}

function hundredEvents(): Example {
  const reference = referenceRecord("11_sample_size", "ss.grid");
  const { hr } = reference.input as { hr: number[] };
  const powers = (exposedShare: number) =>
    hr.map((hazardRatio) => answered(powerOfEvents({ events: 100, hazardRatio, exposedShare })).power);
  return {
    title: "100 events, hazard ratios from 0.5 to 3",
    fromMemory: false,
    reference: REFERENCES.base,
    checks: [
      seriesCheck(
        "Power: half exposed",
        powers(0.5),
        reference.expected.power_100events,
        toleranceOf(reference),
      ),
      seriesCheck(
        "Power: a quarter exposed",
        powers(0.25),
        reference.expected.power_100events_p25,
        toleranceOf(reference),
      ),
    ],
  };
}

function counted(): Example {
  const drawn = Array.from({ length: REPLICATES }, (_, replicate) =>
    randomStreams(SEED).stream(`no effect, replicate ${replicate}`).uniform(),
  );
  const share = drawn.filter((p) => p < 0.2).length / REPLICATES;
  return {
    title: "The same draws, counted one by one",
    fromMemory: false,
    reference: REFERENCES.closed,
    checks: [
      valueCheck("Share rejected at 20 %", simulated.power, share, EXACT),
      valueCheck(
        "Monte Carlo error",
        simulated.monteCarloError,
        Math.sqrt((share * (1 - share)) / REPLICATES),
        EXACT,
      ),
    ],
  };
}
