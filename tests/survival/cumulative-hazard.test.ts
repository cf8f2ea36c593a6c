import { describe, expect, it } from "vitest";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { cumulativeHazard } from "../../src/survival/cumulative-hazard.ts";
import { kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import { rowsOf } from "./some-rows.ts";

describe("cumulativeHazard()", () => {
  it("adds events over numbers at risk, with Aalen's variance and limits on the log scale", () => {
    // Closed form: 1/5 + 1/4 + 1/2 and 1/25 + 1/16 + 1/4.
    const [steps] = cumulativeHazard(countsByTime({ exit: [1, 2, 2, 3, 5], event: [1, 1, 0, 1, 0] })).groups;
    expect(steps?.time).toEqual([1, 2, 3, 5]);
    [0.2, 0.45, 0.95, 0.95].forEach((hazard, step) => {
      expect(steps?.hazard[step]).toBeCloseTo(hazard, 14);
    });
    expect(steps?.standardError[2]).toBeCloseTo(Math.sqrt(0.04 + 0.0625 + 0.25), 14);
    const width = (1.959963984540054 * Math.sqrt(0.3525)) / 0.95;
    expect(steps?.lower[2]).toBeCloseTo(0.95 * Math.exp(-width), 12);
    expect(steps?.upper[2]).toBeCloseTo(0.95 * Math.exp(width), 12);
  });

  it("gives an exact upper limit while no event has been seen, and never a width of zero", () => {
    const [steps] = cumulativeHazard(countsByTime({ exit: [1, 2], event: [0, 0] })).groups;
    // Closed form: −log(1 − (1 − 0.025^(1/n))) = 3.688879 / n.
    expect(steps?.limits).toEqual(["none seen", "none seen"]);
    expect(steps?.upper[0]).toBeCloseTo(3.6888794541139354 / 2, 12);
  });

  it("lies below −log of survival, close to it with many at risk, and adds up over causes", () => {
    const counts = countsByTime(rowsOf(81, { rows: 2_000, groups: 1, strata: 2, causes: 2, entries: false }));
    const [all] = cumulativeHazard(counts).groups;
    const [survival] = kaplanMeier(counts).groups;
    const [one] = cumulativeHazard(counts, { event: ["cause 1"] }).groups;
    const [two] = cumulativeHazard(counts, { event: ["cause 2"] }).groups;
    all?.hazard.forEach((hazard, step) => {
      expect((one?.hazard[step] ?? 0) + (two?.hazard[step] ?? 0)).toBeCloseTo(hazard, 11);
      const free = survival?.survival[step] ?? 0;
      if (free > 0.3) {
        expect(-Math.log(free)).toBeGreaterThanOrEqual(hazard);
        expect(-Math.log(free) / hazard).toBeCloseTo(1, 1);
      }
    });
  });

  it("takes nobody, an event on tick 0, and all events on one tick", () => {
    expect(cumulativeHazard(countsByTime({ exit: [], event: [] })).groups[0]).toMatchObject({
      time: [],
      hazard: [],
    });
    expect(cumulativeHazard(countsByTime({ exit: [0, 4], event: [1, 0] })).groups[0]?.hazard).toEqual([
      0.5, 0.5,
    ]);
    expect(cumulativeHazard(countsByTime({ exit: [3, 3], event: [1, 1] })).groups[0]?.hazard).toEqual([1]);
  });

  it("refuses sampling weights, unknown causes and levels in per cent", () => {
    const weight = { kind: "sampling" as const, values: [1.5] };
    expect(() => cumulativeHazard(countsByTime({ exit: [1], event: [1], weight }))).toThrow(
      "sampling weights",
    );
    const counts = countsByTime({ exit: [1], event: [1] });
    expect(() => cumulativeHazard(counts, { event: ["x"] })).toThrow('no cause is named "x"');
    expect(() => cumulativeHazard(counts, { level: 95 })).toThrow("write 0.95");
  });
});
