import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { completeness } from "../../src/survival/completeness.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { reverseFollowUp } from "../../src/survival/reverse-follow-up.ts";
import { timeToFraction } from "../../src/survival/time-to-fraction.ts";
import { expectRelative, numberColumn, referenceRecord, referenceRows } from "../reference/record.ts";
import { rowsOf } from "./some-rows.ts";

function quarterTick(columns: ObservationColumns, fraction: number): number | undefined {
  const [group] = timeToFraction(reverseFollowUp(countsByTime(columns)), fraction).groups;
  if (!group?.time.computed) return undefined;
  return group.time.estimate.reached ? group.time.estimate.tick : undefined;
}

describe("reverseFollowUp()", () => {
  it("gives the reference curve and quartiles where no event and censoring tie", () => {
    const rows = referenceRows("ovarian.csv");
    const { expected } = referenceRecord("01_kaplan_meier", "km.reverse_followup.ovarian");
    const columns = { exit: numberColumn(rows, "time"), event: numberColumn(rows, "status") };
    const [curve] = reverseFollowUp(countsByTime(columns)).groups;
    expected.curve.time.forEach((tick: number, place: number) => {
      const step = curve?.time.indexOf(tick) ?? -1;
      expectRelative(curve?.survival[step], expected.curve.survival[place], 1e-12);
    });
    expected.quantiles.p.forEach((fraction: number, place: number) => {
      expect(quarterTick(columns, fraction)).toBe(expected.quantiles.estimate[place] ?? undefined);
    });
  });

  it("takes events of every cause out before those whose observation ends on the same tick", () => {
    // Closed form: at tick 5, of 4 at risk 2 leave by death and revision, and 1 of the remaining 2 ends: 1/2. A plain
    // reversal would give 3/4, and no median on tick 5.
    const columns = { exit: [5, 5, 5, 9], event: [1, 2, 0, 0], causes: ["revision", "death"] };
    const [curve] = reverseFollowUp(countsByTime(columns)).groups;
    expect(curve?.survival).toEqual([0.5, 0]);
    expect(quarterTick(columns, 0.5)).toBe(5);
  });

  it("is the ordinary median of all times where nothing happened to anybody", () => {
    expect(quarterTick({ exit: [3, 8, 1, 9, 4], event: [0, 0, 0, 0, 0] }, 0.5)).toBe(4);
  });

  it("is never reached where everybody had the event", () => {
    expect(quarterTick({ exit: [3, 8, 1], event: [1, 1, 1] }, 0.5)).toBeUndefined();
  });

  it("puts strata together before it turns events round (closed form)", () => {
    // On tick 1 four of five end observation: 1/5. The fifth, with an event on tick 2, is still under observation there.
    const rows = { exit: [2, 1, 1, 1, 1], event: [1, 0, 0, 0, 0] };
    const stratum = { codes: [1, 0, 0, 0, 0], labels: ["x", "y"] };
    for (const columns of [rows, { ...rows, stratum }]) {
      const steps = reverseFollowUp(countsByTime(columns)).groups[0];
      expect(steps?.survival[0]).toBeCloseTo(1 / 5, 14);
      expect(steps?.emptiedAt).toBeNull();
    }
    const many = rowsOf(33, { rows: 200, groups: 2, strata: 4, causes: 2, entries: true });
    const { stratum: _, ...unstratified } = many;
    expect(reverseFollowUp(countsByTime(many))).toEqual(reverseFollowUp(countsByTime(unstratified)));
  });

  it("has somebody under observation on the tick of the event that takes out the last one at risk", () => {
    // On tick 5 the second has the event and the third enters: nobody is at risk of ending, yet observation never stops.
    const columns = { entry: [-1, -1, 5], exit: [3, 5, 9], event: [0, 1, 0] };
    const [steps] = reverseFollowUp(countsByTime(columns)).groups;
    expect([steps?.atRisk, steps?.survival, steps?.emptiedAt]).toEqual([[2, 0, 1], [0.5, 0.5, 0], null]);
    expect(quarterTick(columns, 0.5)).toBe(3);
  });

  it("takes copies as rows repeated", () => {
    const rows = rowsOf(95, { rows: 50, groups: 1, strata: 1, causes: 2, entries: false });
    const weight = { kind: "copies" as const, values: rows.exit.map(() => 3) };
    const [once] = reverseFollowUp(countsByTime(rows)).groups;
    const [thrice] = reverseFollowUp(countsByTime({ ...rows, weight })).groups;
    once?.survival.forEach((share, step) => {
      expect(thrice?.survival[step]).toBeCloseTo(share, 13);
    });
  });
});

describe("completeness()", () => {
  const columns = {
    exit: [10, 4, 6, 2],
    event: [0, 0, 1, 0],
    group: { codes: [0, 0, 1, 1], labels: ["A", "B"] },
    timeUnit: TIME_UNITS.year,
  };

  it("is observed time over possible time by group", () => {
    // Closed form: A (10 + 4) / (10 + 10), B (6 + 2) / (6 + 10).
    const { groups } = completeness(columns, [10, 10, 6, 10]);
    expect(groups.map((group) => [group.observedYears, group.possibleYears])).toEqual([
      [14, 20],
      [8, 16],
    ]);
    expect(groups.map((group) => group.share)).toEqual([
      { computed: true, share: 0.7 },
      { computed: true, share: 0.5 },
    ]);
  });

  it("counts time from entry on both sides", () => {
    const { groups } = completeness(
      { exit: [10, 8], event: [0, 0], entry: [5, -1], timeUnit: TIME_UNITS.year },
      [15, 8],
    );
    expect(groups[0]).toMatchObject({ observedYears: 13, possibleYears: 18 });
  });

  it("has no share for an empty group or one without any possible time", () => {
    expect(completeness({ exit: [], event: [] }, []).groups[0]?.share).toMatchObject({
      code: "no-possible-time",
    });
    expect(completeness({ exit: [0], event: [1] }, [0]).groups[0]?.share).toMatchObject({
      code: "no-possible-time",
    });
  });

  it("refuses a row seen for longer than was possible, and a column of another length", () => {
    expect(() => completeness(columns, [10, 3, 6, 10])).toThrow("row 2, possible");
    expect(() => completeness(columns, [10, Number.NaN, 6, 10])).toThrow("row 2, possible");
    expect(() => completeness(columns, [10, 10])).toThrow("2 elements");
  });
});
