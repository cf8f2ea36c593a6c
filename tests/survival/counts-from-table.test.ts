import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { addCounts } from "../../src/survival/add-counts.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { type CountRow, countsFromTable } from "../../src/survival/counts-from-table.ts";
import { kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import { logRankTest } from "../../src/survival/log-rank-test.ts";
import { columnsOf, type DrawnRow, drawnRows, RUNS } from "./arbitrary-rows.ts";

const LABELS = { groups: ["a", "b", "c"], strata: ["x", "y"] };

/** What a database would count: leavers and entries, one row each here, to be added by tick. */
function tableOf(rows: readonly DrawnRow[]): CountRow[] {
  return rows.flatMap(({ entry, exit, event, group, stratum }) => {
    const cell = { group: LABELS.groups[group] ?? "", stratum: LABELS.strata[stratum] ?? "" };
    const leaves = { ...cell, tick: exit, events: [event], censored: 1 - event };
    return entry < 0 ? [leaves] : [leaves, { ...cell, tick: entry, events: [0], censored: 0, entered: 1 }];
  });
}

describe("countsFromTable()", () => {
  it("gives the counts of the rows the table was counted from (identity)", () => {
    fc.assert(
      fc.property(drawnRows, (rows) => {
        expect(countsFromTable(tableOf(rows), LABELS)).toEqual(countsByTime(columnsOf(rows)));
      }),
      RUNS,
    );
  });

  it("adds rows of one tick, drops ticks on which nothing happened and takes labels as they come", () => {
    const counts = countsFromTable([
      { group: "late", tick: 9, events: [1], censored: 0 },
      { group: "early", tick: 2, events: [0], censored: 0 },
      { group: "late", tick: 9, events: [0], censored: 2 },
    ]);
    expect(counts.groups).toEqual(["late", "early"]);
    expect([...(counts.cells[0]?.atRisk ?? [])]).toEqual([3]);
    expect(counts.cells[1]?.cases).toBe(0);
    expect(countsFromTable([]).cells[0]?.cases).toBe(0);
  });

  it("refuses counts that are none, causes that do not fit and entries that never leave", () => {
    expect(() => countsFromTable([{ tick: 1.5, events: [1], censored: 0 }])).toThrow("row 1");
    expect(() => countsFromTable([{ tick: 1, events: [-1], censored: 0 }])).toThrow("whole numbers");
    expect(() => countsFromTable([{ tick: 1, events: [1, 1], censored: 0 }])).toThrow("one count for each");
    expect(() => countsFromTable([{ tick: 4, events: [0], censored: 1, entered: 1 }])).toThrow(
      "more cases enter",
    );
    expect(() => countsFromTable([{ group: "z", tick: 1, events: [1], censored: 0 }], LABELS)).toThrow(
      "not among",
    );
  });
});

describe("addCounts()", () => {
  it("gives the counts, curves and tests of the joined rows, whatever the split (identity)", () => {
    fc.assert(
      fc.property(drawnRows, fc.integer({ min: 0, max: 24 }), (rows, cut) => {
        const parts = [rows.slice(0, cut), rows.slice(cut)].map((part) => countsByTime(columnsOf(part)));
        const [added, joined] = [addCounts(parts), countsByTime(columnsOf(rows))];
        expect(added).toEqual(joined);
        expect(kaplanMeier(added)).toEqual(kaplanMeier(joined));
        expect(logRankTest(added)).toEqual(logRankTest(joined));
      }),
      RUNS,
    );
  });

  it("matches groups by name and keeps those that only one centre has", () => {
    const one = countsFromTable([{ group: "b", tick: 3, events: [1], censored: 0 }]);
    const other = countsFromTable([
      { group: "a", tick: 3, events: [0], censored: 1 },
      { group: "b", tick: 5, events: [0], censored: 4 },
    ]);
    const added = addCounts([one, other]);
    expect(added.groups).toEqual(["b", "a"]);
    expect(added.cells.map(({ cases }) => cases)).toEqual([5, 1]);
  });

  it("has delayed entry as soon as one centre has", () => {
    const from = (entry: number) => countsByTime({ entry: [entry], exit: [4], event: [1] });
    const delayed = [
      addCounts([from(-1), from(2)]),
      addCounts([from(2), from(2)]),
      addCounts([from(-1), from(-1)]),
    ];
    expect(delayed.map(({ delayedEntry }) => delayedEntry)).toEqual([true, true, false]);
  });

  it("counts a case cut in pieces once", () => {
    const cut = countsByTime({ entry: [-1, 4], exit: [4, 9], event: [0, 1], caseId: [1, 1] });
    expect(addCounts([cut, cut]).cells[0]?.cases).toBe(2);
  });

  it("refuses weights, other causes, another time unit, and nothing", () => {
    const plain = countsByTime({ exit: [1], event: [1] });
    const copies = countsByTime({ exit: [1], event: [1], weight: { kind: "copies", values: [2] } });
    expect(() => addCounts([plain, copies])).toThrow("weighted");
    expect(() => addCounts([plain, countsByTime({ exit: [1], event: [1], causes: ["death"] })])).toThrow(
      "same causes",
    );
    expect(() =>
      addCounts([plain, countsByTime({ exit: [1], event: [1], timeUnit: TIME_UNITS.year })]),
    ).toThrow("time unit");
    expect(() => addCounts([])).toThrow("at least one");
  });
});
