import { describe, expect, it } from "vitest";
import { ArgumentError } from "../../src/base/errors.ts";
import { detectableHazardRatio } from "../../src/planning/detectable-hazard-ratio.ts";
import { eventsRequired, unitsForEvents } from "../../src/planning/events-required.ts";
import { expectAllRelative, expectRelative, referenceRecord } from "../reference/record.ts";

const grid = referenceRecord("11_sample_size", "ss.grid").expected;
const RATIOS = [0.5, 0.67, 0.75, 1.25, 1.5, 2, 3];

function unrounded(...args: Parameters<typeof eventsRequired>): number {
  const answer = eventsRequired(...args);
  if (!answer.computed) throw new Error(answer.code);
  return answer.unrounded;
}

function ratioOf(...args: Parameters<typeof detectableHazardRatio>): number {
  const answer = detectableHazardRatio(...args);
  if (!answer.computed) throw new Error(answer.code);
  return answer.ratio;
}

describe("eventsRequired()", () => {
  it("gives the events of Schoenfeld over a grid of ratios, shares and powers (reference: R)", () => {
    const over = (exposedShare: number, power: number) =>
      RATIOS.map((hazardRatio) => unrounded({ hazardRatio, exposedShare, power }));
    expectAllRelative(over(0.5, 0.8), grid.schoenfeld_p50_80, 1e-10);
    expectAllRelative(over(0.5, 0.9), grid.schoenfeld_p50_90, 1e-10);
    expectAllRelative(over(0.25, 0.8), grid.schoenfeld_p25_80, 1e-10);
  });

  it("gives the events of Freedman, whose ratio belongs to the exposed group (reference: R)", () => {
    const over = (exposedShare: number) =>
      RATIOS.map((hazardRatio) => unrounded({ hazardRatio, exposedShare, method: "freedman" }));
    expectAllRelative(over(0.5), grid.freedman_r1_80, 1e-10);
    expectAllRelative(over(0.75), grid.freedman_r3_80, 1e-10);
  });

  it("plans the hepatitis trial of Collett from the unrounded ratio (reference: R; the book rounds the ratio and prints 133, from memory)", () => {
    const { input, expected } = referenceRecord("11_sample_size", "ss.schoenfeld_collett") as unknown as {
      input: { s1: number; s2: number; power: number; alpha: number };
      expected: {
        hazardRatio: number;
        schoenfeld: number;
        schoenfeldCeil: number;
        freedman: number;
        freedmanCeil: number;
      };
    };
    const settings = {
      hazardRatio: Math.log(input.s2) / Math.log(input.s1),
      exposedShare: 0.5,
      power: input.power,
      level: input.alpha,
    };
    expectRelative(settings.hazardRatio, expected.hazardRatio, 1e-14);
    expectRelative(unrounded(settings), expected.schoenfeld, 1e-11);
    expectRelative(unrounded({ ...settings, method: "freedman" }), expected.freedman, 1e-11);
    expect(eventsRequired(settings)).toMatchObject({ events: expected.schoenfeldCeil });
    expect(eventsRequired({ ...settings, method: "freedman" })).toMatchObject({
      events: expected.freedmanCeil,
    });
  });

  it.each([
    [2, 0.5, 0.05, 66, 13_070, 6535, 1634],
    [2, 0.2, 0.05, 103, 20_421, 10_211, 2553],
    [2, 0.5, 0.05 / 12, 115, 22_881, 11_441, 2861],
    [1.5, 0.5, 0.05, 191, 38_194, 19_097, 4775],
    [3, 0.5, 0.05, 27, 5203, 2602, 651],
  ])(
    "needs whole events for ratio %d, share %d, level %d: %d (closed form, worked out by hand beforehand)",
    (hazardRatio, exposedShare, level, events, ...units) => {
      const answer = eventsRequired({ hazardRatio, exposedShare, level });
      expect(answer).toMatchObject({ computed: true, events });
      const needed = unrounded({ hazardRatio, exposedShare, level });
      expect([0.005, 0.01, 0.04].map((share) => unitsForEvents(needed, share))).toEqual(units);
    },
  );

  it("gives a ratio and its reciprocal the same events (identity, both methods)", () => {
    const settings = { exposedShare: 0.3, level: 0.01 };
    expectRelative(
      unrounded({ ...settings, hazardRatio: 2.5 }),
      unrounded({ ...settings, hazardRatio: 1 / 2.5 }),
      1e-14,
    );
    // Freedman's is symmetrical only when the groups change places too.
    expectRelative(
      unrounded({ hazardRatio: 2.5, exposedShare: 0.3, method: "freedman" }),
      unrounded({ hazardRatio: 1 / 2.5, exposedShare: 0.7, method: "freedman" }),
      1e-14,
    );
  });

  it("multiplies by the variance factor of clusters, and the detectable ratio with it (identity)", () => {
    const input = { hazardRatio: 1.7, exposedShare: 0.4 };
    for (const method of ["schoenfeld", "freedman"] as const) {
      expectRelative(
        unrounded({ ...input, method, varianceFactor: 3.45 }),
        3.45 * unrounded({ ...input, method }),
        1e-12,
      );
    }
    const ratio = ratioOf({ events: 345, exposedShare: 0.4, varianceFactor: 3.45 });
    expectRelative(ratio, ratioOf({ events: 100, exposedShare: 0.4 }), 1e-12);
    expect(() => eventsRequired({ ...input, varianceFactor: -1 })).toThrow(ArgumentError);
  });

  it("asks a one-sided test at half the level for the events of a two-sided one (identity)", () => {
    const input = { hazardRatio: 1.7, exposedShare: 0.4 };
    expect(unrounded({ ...input, level: 0.025, sided: "one-sided" })).toBe(
      unrounded({ ...input, level: 0.05 }),
    );
  });

  it("has no answer for a ratio of 1 or an empty group, and none that is infinite", () => {
    expect(eventsRequired({ hazardRatio: 1, exposedShare: 0.5 })).toMatchObject({ code: "no-difference" });
    expect(eventsRequired({ hazardRatio: 2, exposedShare: 0 })).toMatchObject({ code: "one-group" });
    expect(eventsRequired({ hazardRatio: 2, exposedShare: 1 })).toMatchObject({ code: "one-group" });
    expect(eventsRequired({ hazardRatio: 2, exposedShare: 1e-320 })).toMatchObject({ code: "out-of-range" });
  });

  it.each([
    [{ hazardRatio: 0, exposedShare: 0.5 }],
    [{ hazardRatio: -2, exposedShare: 0.5 }],
    [{ hazardRatio: Number.NaN, exposedShare: 0.5 }],
    [{ hazardRatio: 2, exposedShare: 1.5 }],
    [{ hazardRatio: 2, exposedShare: 0.5, power: 1 }],
    [{ hazardRatio: 2, exposedShare: 0.5, level: 0.95 }],
    [{ hazardRatio: 2, exposedShare: 0.5, power: 0.02 }],
  ])("refuses %j", (input) => {
    expect(() => eventsRequired(input)).toThrow(ArgumentError);
  });
});

describe("detectableHazardRatio()", () => {
  it("gives the smallest ratio that a number of events shows (reference: R)", () => {
    const { events, p50_80, p20_90 } = grid.minDetectableHR;
    const over = (exposedShare: number, power: number) =>
      events.map((count: number) => ratioOf({ events: count, exposedShare, power }));
    expectAllRelative(over(0.5, 0.8), p50_80, 1e-10);
    expectAllRelative(over(0.2, 0.9), p20_90, 1e-10);
  });

  it("is what eventsRequired() says read backwards (identity)", () => {
    for (const events of [1, 14, 103, 5000]) {
      const settings = { exposedShare: 0.35, power: 0.85, level: 0.05 / 12 };
      const hazardRatio = ratioOf({ events, ...settings });
      expectRelative(unrounded({ hazardRatio, ...settings }), events, 1e-11);
    }
  });

  it("gives the ratio below 1 as well, and the settings in force", () => {
    const answer = detectableHazardRatio({ events: 100, exposedShare: 0.5 });
    expect(answer).toMatchObject({ settings: { power: 0.8, level: 0.05, sided: "two-sided", events: 100 } });
    if (answer.computed) expect(answer.ratio * answer.reciprocal).toBeCloseTo(1, 15);
  });

  it("has no answer without events, with an empty group or beyond any ratio", () => {
    expect(detectableHazardRatio({ events: 0, exposedShare: 0.5 })).toMatchObject({ code: "no-events" });
    expect(detectableHazardRatio({ events: 9, exposedShare: 0 })).toMatchObject({ code: "one-group" });
    expect(detectableHazardRatio({ events: 1, exposedShare: 1e-6 })).toMatchObject({ code: "out-of-range" });
    expect(() => detectableHazardRatio({ events: 1.5, exposedShare: 0.5 })).toThrow(ArgumentError);
  });
});
