import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { allSteps, TOGETHER } from "../../../src/study/adherence/all-steps.ts";
import { changeOfStep } from "../../../src/study/adherence/change-of-step.ts";
import { stepShares } from "../../../src/study/adherence/step-shares.ts";

/** Done, not done, not applicable, not recorded. */
const [D, N, X, O] = [0, 1, 2, 3];
const every = (length: number) => Array.from({ length }, (_, row) => row);
const own = (length: number) => ({ codes: Int32Array.from(every(length)), count: length });
const repeated = (...runs: readonly (readonly [number, number])[]) =>
  Uint8Array.from(runs.flatMap(([state, times]) => Array<number>(times).fill(state)));

describe("stepShares()", () => {
  it("is out of those who were written down, and keeps what was not in view", () => {
    const states = repeated([D, 56], [N, 14], [X, 100], [O, 30]);
    const { share, bounds, recorded, applicable, all } = stepShares(states, every(200), own(200), 0.95);
    expect([recorded.units, applicable.units, all.units]).toEqual([70, 100, 200]);
    // Newcombe 1998 (Statistics in Medicine 17:873), first sample of example (a), 56 of 70: 0.8, limits worked out by hand
    // from Wilson's formula with z = 1.959964.
    expect(share).toMatchObject({ computed: true, share: 0.8 });
    expect(share.computed && share.low).toBeCloseTo(0.6918, 4);
    expect(share.computed && share.high).toBeCloseTo(0.877, 4);
    expect(bounds).toMatchObject({ computed: true, lowest: 0.56, highest: 0.86 });
    // The same by hand: Wilson's lower limit of 56 of 100, upper of 86 of 100.
    expect(bounds.computed && bounds.low).toBeCloseTo(0.4623, 4);
    expect(bounds.computed && bounds.high).toBeCloseTo(0.9147, 4);
  });

  it("counts persons once in what two of their knees share", () => {
    const persons = { codes: Int32Array.from([0, 0, 1]), count: 2 };
    const found = stepShares(repeated([D, 1], [N, 1], [D, 1]), every(3), persons, 0.95);
    expect(found.states[0]).toEqual({ units: 2, persons: 2 });
    expect(found.recorded).toEqual({ units: 3, persons: 2 });
  });

  it("has no share of a step that applies nowhere or is nowhere written down", () => {
    expect(stepShares(repeated([X, 9]), every(9), own(9), 0.95)).toMatchObject({
      share: { computed: false, code: "no-cases" },
      bounds: { computed: false, code: "no-cases" },
    });
    expect(stepShares(repeated([O, 9]), every(9), own(9), 0.95)).toMatchObject({
      share: { computed: false },
      bounds: { computed: true, lowest: 0, highest: 1, low: 0, high: 1 },
    });
  });

  it("has bounds that hold the share of every way to fill in what is not recorded", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.constantFrom(D, N, X, O), fc.boolean()), { minLength: 1, maxLength: 40 }),
        (cells) => {
          const states = Uint8Array.from(cells, ([state]) => state);
          const { bounds } = stepShares(states, every(states.length), own(states.length), 0.95);
          const filled = cells.map(([state, isDone]) => (state === O ? (isDone ? D : N) : state));
          const applicable = filled.filter((state) => state !== X);
          if (!bounds.computed) return applicable.length === 0;
          const share = applicable.filter((state) => state === D).length / applicable.length;
          return bounds.lowest <= share && share <= bounds.highest;
        },
      ),
      { numRuns: 200 },
    );
  });
});

describe("changeOfStep()", () => {
  const at = (done: number, notDone: number, open: number) => {
    const states = repeated([D, done], [N, notDone], [O, open]);
    return stepShares(states, every(states.length), own(states.length), 0.95);
  };
  const options = { level: 0.95, fewestRecorded: 20 };

  it("is Newcombe's difference, after minus before", () => {
    // Newcombe 1998 (Statistics in Medicine 17:873), table II, example (a): 56/70 and 48/80 by method 10.
    const { difference } = changeOfStep(at(48, 32, 0), at(56, 14, 0), options);
    expect(difference.computed && difference.difference).toBeCloseTo(0.2, 12);
    expect(difference.computed && difference.low).toBeCloseTo(0.0524, 4);
    expect(difference.computed && difference.high).toBeCloseTo(0.3339, 4);
  });

  it.each([
    ["more", at(480, 320, 0), at(560, 140, 0)],
    ["moreIfWritten", at(480, 320, 300), at(560, 140, 300)],
    ["less", at(560, 140, 0), at(480, 320, 0)],
    ["lessIfWritten", at(560, 140, 300), at(480, 320, 300)],
    ["chance", at(48, 32, 0), at(49, 31, 0)],
    // The unrecorded would leave a difference of 1 to 8 points, which chance alone could give.
    ["moreIfWritten", at(430, 55, 15), at(450, 30, 20)],
    ["few", at(19, 0, 0), at(0, 100, 0)],
  ])("reads %s", (expected, before, after) => {
    expect(changeOfStep(before, after, options).reading).toBe(expected);
  });

  it("shows that the writing changed: better written down is not done more often", () => {
    const found = changeOfStep(at(100, 0, 900), at(700, 300, 0), options);
    expect(found.unrecorded).toEqual({ computed: true, before: 0.9, after: 0 });
    expect(found.reading).toBe("lessIfWritten");
    expect(found.bounds.computed && found.bounds.lowest).toBeCloseTo(-0.3, 12);
    expect(found.bounds.computed && found.bounds.highest).toBeCloseTo(0.6, 12);
  });
});

describe("allSteps()", () => {
  const steps = (...rows: readonly (readonly number[])[]) =>
    (rows[0] ?? []).map((_, step) => ({ states: Uint8Array.from(rows, (row) => row[step] ?? 0) }));
  const found = (...rows: readonly (readonly number[])[]) =>
    allSteps(steps(...rows), every(rows.length), own(rows.length), 0.95);
  const kindOf = (...row: number[]) => found(row).counts.find(({ units }) => units === 1)?.kind;

  it.each([
    [[D, D], "all"],
    [[D, X], "all"],
    [[D, N], "some"],
    [[X, N], "some"],
    [[D, O], "open"],
    [[X, O], "open"],
    [[N, O], "openAndMissed"],
    [[X, X], "none"],
  ])("%j is %s", (row, kind) => {
    expect(kindOf(...row)).toBe(kind);
  });

  it("takes its share from complete records alone: an incomplete one can only speak against", () => {
    const { share, bounds, complete } = found([D, D], [D, N], [N, O], [D, O], [X, X]);
    expect(complete.units).toBe(2);
    expect(share).toMatchObject({ share: 0.5 });
    expect(bounds).toEqual({ computed: true, lowest: 0.25, highest: 0.5 });
  });

  it("counts every unit once", () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(fc.constantFrom(D, N, X, O), { minLength: 3, maxLength: 3 }), { minLength: 1 }),
        (rows) => {
          const { counts } = found(...rows);
          expect(counts.map(({ kind }) => kind)).toEqual(Object.keys(TOGETHER));
          expect(counts.reduce((sum, { units }) => sum + units, 0)).toBe(rows.length);
        },
      ),
      { numRuns: 50 },
    );
  });
});
