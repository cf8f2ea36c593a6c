import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { followedStretches } from "../../src/survival/followed-stretches.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { type SmoothedHazardOptions, smoothedHazard } from "../../src/survival/smoothed-hazard.ts";
import { expectAllRelative, expectRelative, referenceRecord } from "../reference/record.ts";
import { gammopathyColumns } from "./gammopathy-columns.ts";
import { rowsOf } from "./some-rows.ts";

const year = TIME_UNITS.year;

function smoothedOf(columns: ObservationColumns, options: SmoothedHazardOptions, group = 0) {
  const smoothed = smoothedHazard(countsByTime(columns), options).groups[group]?.smoothed;
  if (smoothed?.computed !== true) throw new Error(smoothed?.code ?? "no group");
  return smoothed;
}

function code(columns: ObservationColumns, options: SmoothedHazardOptions, group = 0): string {
  const smoothed = smoothedHazard(countsByTime(columns), options).groups[group]?.smoothed;
  return smoothed?.computed === false ? smoothed.code : "computed";
}

describe("smoothedHazard() against reference numbers", () => {
  it("smooths malignancy and death of women and men over two years each way", () => {
    // Reference: R survival 3.5-3 for the steps, the kernel sum written out.
    const { expected } = referenceRecord("21_clustered_means", "hazard.smoothed");
    for (const cause of ["malignancy", "death"]) {
      ["F", "M"].forEach((sex, group) => {
        const options = { halfWindowYears: 2, stepYears: 1, event: [cause] };
        const ours = smoothedOf(gammopathyColumns(), options, group);
        const wanted = expected[cause][sex];
        const places = expected.times.map((time: number) => ours.time.indexOf(time)) as number[];
        const picked = (values: readonly number[]) => places.map((place) => values[place] ?? Number.NaN);
        expectAllRelative(picked(ours.hazard), wanted.hazard, 1e-11);
        expectAllRelative(picked(ours.standardError), wanted.se, 1e-11);
        expectAllRelative(picked(ours.lower), wanted.lower, 1e-11);
        expectAllRelative(picked(ours.upper), wanted.upper, 1e-11);
      });
    }
  });
});

describe("smoothedHazard() keeps its identities", () => {
  it("is ¾ (1 − x²) / window × d / n round a single event (closed form)", () => {
    const exit = [10, ...new Array(9).fill(20)];
    const event = [1, ...new Array(9).fill(0)];
    const ours = smoothedOf({ exit, event, timeUnit: year }, { halfWindowYears: 4, stepYears: 1 });
    expect(ours.time).toEqual([4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16]);
    ours.time.forEach((tick, at) => {
      const x = (tick - 10) / 4;
      const wanted = Math.abs(x) < 1 ? (0.75 * (1 - x * x) * 0.1) / 4 : 0;
      expect(ours.hazard[at]).toBeCloseTo(wanted, 15);
      // One event: the standard error is the hazard itself.
      expect(ours.standardError[at]).toBeCloseTo(wanted, 15);
    });
    expect(ours.eventsInWindow).toEqual([0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 0, 0, 0]);
    expect(ours.atRisk).toEqual([10, 10, 10, 10, 10, 10, 10, 9, 9, 9, 9, 9, 9]);
  });

  it("adds up to the Nelson–Aalen steps over all moments (closed form of the kernel's sum)", () => {
    // Σ over whole ticks of K(k / b) / b = 1 − 1 / (4 b²).
    const exit = [...new Array(30).keys()].map((row) => 24 + (row % 11)).concat(new Array(20).fill(60));
    const event = exit.map((tick) => (tick < 60 ? 1 : 0));
    const ours = smoothedOf({ exit, event, timeUnit: year }, { halfWindowYears: 12, stepYears: 1 });
    const steps = [...new Set(exit.filter((tick) => tick < 60))].map((tick) => {
      const atRisk = exit.filter((other) => other >= tick).length;
      return exit.filter((other) => other === tick).length / atRisk;
    });
    const total = steps.reduce((sum, step) => sum + step, 0);
    expectRelative(
      ours.hazard.reduce((sum, hazard) => sum + hazard, 0),
      total * (1 - 1 / (4 * 144)),
      1e-12,
    );
  });

  it("agrees with asking every row at every event (twin), with late entries, strata and copies", () => {
    const rows = rowsOf(91, { rows: 250, groups: 2, strata: 2, causes: 2, entries: true });
    const values = rows.exit.map((_, row) => row % 3);
    const columns = { ...rows, weight: { kind: "copies" as const, values }, timeUnit: year };
    const options = { halfWindowYears: 6.5, stepYears: 3, event: ["cause 2"] };
    [0, 1].forEach((group) => {
      const ours = smoothedOf(columns, options, group);
      const list = rows.exit.flatMap((exit, row) =>
        rows.group.codes[row] === group
          ? [{ exit, entry: rows.entry?.[row] ?? -1, event: rows.event[row] ?? 0, copies: values[row] ?? 0 }]
          : [],
      );
      const copies = (some: typeof list) => some.reduce((sum, row) => sum + row.copies, 0);
      ours.time.forEach((tick, at) => {
        let [hazard, variance] = [0, 0];
        for (const time of new Set(list.map(({ exit }) => exit))) {
          const d = copies(list.filter(({ exit, event }) => exit === time && event === 2));
          const n = copies(list.filter(({ exit, entry }) => entry < time && time <= exit));
          const x = (tick - time) / 6.5;
          if (d === 0 || Math.abs(x) >= 1) continue;
          const weight = (0.75 * (1 - x * x)) / 6.5;
          hazard += (weight * d) / n;
          variance += (weight * weight * d) / (n * n);
        }
        expect(ours.hazard[at]).toBeCloseTo(hazard, 13);
        expect(ours.standardError[at]).toBeCloseTo(Math.sqrt(variance), 13);
      });
    });
  });

  it("adds up over causes", () => {
    const columns = {
      ...rowsOf(92, { rows: 200, groups: 1, strata: 1, causes: 2, entries: false }),
      timeUnit: year,
    };
    const of = (event?: readonly string[]) =>
      smoothedOf(columns, { halfWindowYears: 5, stepYears: 1, ...(event && { event }) }).hazard;
    const [all, one, two] = [of(), of(["cause 1"]), of(["cause 2"])];
    all.forEach((hazard, at) => {
      expect((one[at] ?? 0) + (two[at] ?? 0)).toBeCloseTo(hazard, 14);
    });
  });
});

describe("smoothedHazard() at the edges", () => {
  it("refuses a step so short that its moments would fill the memory", () => {
    const counts = countsByTime({ exit: [1, 2_000_000_000], event: [1, 0] });
    const [group] = smoothedHazard(counts, { halfWindowYears: 1 }).groups;
    expect(group?.smoothed).toMatchObject({ computed: false, code: "too-many-moments" });
    const [coarse] = smoothedHazard(counts, { halfWindowYears: 1, stepYears: 1000 }).groups;
    expect(coarse?.smoothed.computed).toBe(true);
  });

  it("is cut half a window after the first and before the last time under observation", () => {
    const columns = { exit: [3, 8, 12], entry: [2, 2, 4], event: [1, 1, 0], timeUnit: year };
    expect(smoothedOf(columns, { halfWindowYears: 1.5, stepYears: 1 }).time).toEqual([4, 5, 6, 7, 8, 9, 10]);
  });

  it("leaves out windows that touch a time with nobody at risk", () => {
    const columns = { exit: [6, 20], entry: [-1, 9], event: [1, 1], timeUnit: year };
    const { time, atRisk } = countsByTime(columns).cells[0] ?? { time: [], atRisk: [] };
    expect(followedStretches(time, atRisk)).toEqual([
      { from: 0, to: 6 },
      { from: 9, to: 20 },
    ]);
    expect(smoothedOf(columns, { halfWindowYears: 2, stepYears: 1 }).time).toEqual([
      2, 3, 4, 11, 12, 13, 14, 15, 16, 17, 18,
    ]);
  });

  it("bounds a window without an event by −log(tail) over its time (closed form)", () => {
    const columns = { exit: [4, 20, 20], event: [0, 0, 0], timeUnit: year };
    const ours = smoothedOf(columns, { halfWindowYears: 3, stepYears: 1 });
    // Round year 5: three rows for two years and two rows for four.
    expectRelative(ours.upper[ours.time.indexOf(5)], -Math.log(0.025) / (3 * 2 + 2 * 4), 1e-13);
    expect(new Set(ours.limits)).toEqual(new Set(["none seen"]));
  });

  it("stops drawing where a window would leave the drawn curve", () => {
    const many = (count: number, tick: number) => new Array<number>(count).fill(tick);
    const exit = [...many(60, 10), ...many(30, 30)];
    const columns = { exit, event: exit.map((_, row) => (row % 7 === 0 ? 1 : 0)), timeUnit: year };
    expect(smoothedOf(columns, { halfWindowYears: 2, stepYears: 1 }).drawnTo).toMatchObject({ tick: 8 });
    expect(smoothedOf(columns, { halfWindowYears: 7, stepYears: 1 }).drawnTo).toMatchObject({
      code: "window-beyond-drawing",
    });
    const few = { exit: exit.slice(55), event: exit.slice(55).map(() => 1), timeUnit: year };
    expect(smoothedOf(few, { halfWindowYears: 2 }).drawnTo).toMatchObject({
      code: "group-too-small-to-draw",
    });
  });

  it("says why nothing is smoothed", () => {
    const options = { halfWindowYears: 3 };
    expect(code({ exit: [], event: [], timeUnit: year }, options)).toBe("no-cases");
    expect(code({ exit: [5], event: [1], timeUnit: year }, options)).toBe("window-beyond-follow-up");
    expect(code({ exit: [6], event: [1], timeUnit: year }, options)).toBe("computed");
    const group = { codes: [0], labels: ["full", "empty"] };
    expect(code({ exit: [6], event: [1], group, timeUnit: year }, options, 1)).toBe("no-cases");
  });

  it("refuses windows, steps, levels and weights it cannot use", () => {
    const counts = countsByTime({ exit: [6], event: [1] });
    for (const halfWindowYears of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => smoothedHazard(counts, { halfWindowYears })).toThrow("halfWindowYears");
    }
    expect(() => smoothedHazard(counts, { halfWindowYears: 0.001 })).toThrow("within one day");
    expect(() => smoothedHazard(counts, { halfWindowYears: 1, stepYears: 0 })).toThrow("stepYears");
    expect(() => smoothedHazard(counts, { halfWindowYears: 1, level: 1 })).toThrow("level");
    expect(() => smoothedHazard(counts, { halfWindowYears: 1, event: [] })).toThrow("names no cause");
    const weight = { kind: "sampling" as const, values: [0.5] };
    const weighted = countsByTime({ exit: [6], event: [1], weight });
    expect(() => smoothedHazard(weighted, { halfWindowYears: 1 })).toThrow("sampling weights");
  });
});
