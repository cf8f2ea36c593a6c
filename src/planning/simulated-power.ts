import { setImmediate as nextTurn } from "node:timers/promises";
import type { Answer } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import type { RandomStream, randomStreams } from "../base/random-streams.ts";
import { requireInnerProbability } from "../numeric/argument-checks.ts";

export interface SimulationInput<Data> {
  /** One study, drawn from its own stream. */
  readonly draw: (stream: RandomStream) => Data;
  /** The p-value of the planned test, or why it has none. */
  readonly analyse: (data: Data) => Answer<{ readonly p: number }>;
  readonly replicates: number;
  readonly streams: ReturnType<typeof randomStreams>;
  /** First part of the name of every stream. */
  readonly name: string;
  /** Chance of a false alarm. Default 0.05. */
  readonly level?: number;
  /** Called after each replicate. */
  readonly progress?: (done: number, all: number) => void;
  /** Stops after the replicate in hand; what was done until then is the answer. */
  readonly signal?: AbortSignal;
}

export interface SimulatedPower {
  readonly kind: "simulated-power";
  /** Share of all replicates in which the test rejected; null before the first. */
  readonly power: number | null;
  /** Standard error of that share from the finite number of replicates; null before the first. */
  readonly monteCarloError: number | null;
  readonly replicates: number;
  readonly rejected: number;
  /** Replicates in which the test had no answer; they count as not rejected. */
  readonly withoutAnswer: number;
  /** Stopped before all replicates were done. */
  readonly interrupted: boolean;
  readonly settings: { readonly level: number; readonly planned: number; readonly name: string };
}

/**
 * How often a planned test would reject, by drawing studies and analysing them.
 *
 * Knows neither the design nor the test: both are handed in. Each replicate has a named stream of its own, so more
 * replicates begin with the same ones and none depends on another. The Monte Carlo error is √(power(1 − power)/n).
 *
 * @example
 * const answer = await simulatedPower({
 *   draw: (stream) => stream.uniform(),
 *   analyse: (p) => ({ computed: true, p }),
 *   replicates: 1000,
 *   streams: randomStreams(1),
 *   name: "no effect",
 * });
 * answer; // power 0.062, give or take 0.0076
 */
export async function simulatedPower<Data>(input: SimulationInput<Data>): Promise<SimulatedPower> {
  const { draw, analyse, replicates, streams, name, level = 0.05, progress, signal } = input;
  if (!Number.isSafeInteger(replicates) || replicates < 1) {
    throw new ArgumentError(
      `simulatedPower: replicates must be a whole number from 1 up; received ${replicates}`,
    );
  }
  requireInnerProbability("simulatedPower", "level", level);
  let [done, rejected, withoutAnswer] = [0, 0, 0];
  while (done < replicates && signal?.aborted !== true) {
    const answer = analyse(draw(streams.stream(`${name}, replicate ${done}`)));
    if (!answer.computed) withoutAnswer += 1;
    else if (answer.p < level) rejected += 1;
    done += 1;
    progress?.(done, replicates);
    // Lets whoever wants to stop it be heard.
    await nextTurn();
  }
  const power = done === 0 ? null : rejected / done;
  return {
    kind: "simulated-power",
    power,
    monteCarloError: power === null ? null : Math.sqrt((power * (1 - power)) / done),
    replicates: done,
    rejected,
    withoutAnswer,
    interrupted: done < replicates,
    settings: { level, planned: replicates, name },
  };
}
