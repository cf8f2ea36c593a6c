import { describe, expect, it } from "vitest";
import { computed, notComputed } from "../../src/base/answer.ts";
import { ArgumentError } from "../../src/base/errors.ts";
import { type RandomStream, randomStreams } from "../../src/base/random-streams.ts";
import { simulatedPower } from "../../src/planning/simulated-power.ts";

const SETTINGS = {
  draw: (stream: RandomStream) => stream.uniform(),
  analyse: (p: number) => computed({ p }),
  name: "a test",
};

describe("simulatedPower()", () => {
  it("rejects at its level where p is uniform (closed form, within three Monte Carlo errors)", async () => {
    const streams = randomStreams(20_260_101);
    const { power, monteCarloError } = await simulatedPower({
      ...SETTINGS,
      replicates: 2000,
      streams,
      level: 0.2,
    });
    expect(monteCarloError).toBeCloseTo(Math.sqrt((0.2 * 0.8) / 2000), 2);
    expect(Math.abs((power ?? 0) - 0.2)).toBeLessThan(3 * (monteCarloError ?? 0));
  });

  it("is what counting over the same named streams gives (twin)", async () => {
    const answer = await simulatedPower({
      ...SETTINGS,
      replicates: 300,
      streams: randomStreams(7),
      level: 0.4,
    });
    let rejected = 0;
    for (let replicate = 0; replicate < 300; replicate += 1) {
      if (randomStreams(7).stream(`a test, replicate ${replicate}`).uniform() < 0.4) rejected += 1;
    }
    expect(answer).toMatchObject({ rejected, power: rejected / 300, replicates: 300, interrupted: false });
  });

  it("says how far it is, and stops after the replicate in hand when asked to", async () => {
    const stop = new AbortController();
    const seen: number[] = [];
    const answer = await simulatedPower({
      ...SETTINGS,
      replicates: 50,
      streams: randomStreams(1),
      signal: stop.signal,
      progress: (done, all) => {
        expect(all).toBe(50);
        seen.push(done);
        if (done === 12) stop.abort();
      },
    });
    expect(seen).toEqual(Array.from({ length: 12 }, (_, at) => at + 1));
    expect(answer).toMatchObject({ replicates: 12, interrupted: true, settings: { planned: 50 } });
  });

  it("hears a stop that comes from outside between two replicates", async () => {
    const stop = new AbortController();
    setImmediate(() => stop.abort());
    const answer = await simulatedPower({
      ...SETTINGS,
      replicates: 1e6,
      streams: randomStreams(1),
      signal: stop.signal,
    });
    expect(answer.interrupted).toBe(true);
  });

  it("has no power before the first replicate, and counts tests without an answer as not rejected", async () => {
    const streams = randomStreams(1);
    const none = await simulatedPower({ ...SETTINGS, replicates: 5, streams, signal: AbortSignal.abort() });
    expect(none).toMatchObject({ power: null, monteCarloError: null, replicates: 0, interrupted: true });
    const analyse = () => notComputed("no-events", "no events");
    const silent = await simulatedPower({ ...SETTINGS, analyse, replicates: 5, streams });
    expect(silent).toMatchObject({ power: 0, rejected: 0, withoutAnswer: 5 });
  });

  it.each([0, 1.5, Number.NaN])("refuses %d replicates", async (replicates) => {
    const streams = randomStreams(1);
    await expect(simulatedPower({ ...SETTINGS, replicates, streams })).rejects.toThrow(ArgumentError);
  });
});
