import { describe, expect, it } from "vitest";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { naiveSurvival } from "./naive-counts.ts";
import { rowsOf } from "./some-rows.ts";

/** Plain arrays of a cell, for comparison. */
function cellOf(columns: ObservationColumns, at = 0) {
  const cell = countsByTime(columns).cells[at];
  if (cell === undefined) throw new Error(`no cell ${at}`);
  return {
    cases: cell.cases,
    time: [...cell.time],
    atRisk: [...cell.atRisk],
    events: cell.events.map((column) => [...column]),
    censored: [...cell.censored],
    entered: [...cell.entered],
    ticksAtRisk: cell.ticksAtRisk,
  };
}

describe("countsByTime()", () => {
  it("takes plain arrays and counts events before censorings on one tick (closed form)", () => {
    expect(cellOf({ exit: [1, 2, 2, 3, 5], event: [1, 1, 0, 1, 0] })).toEqual({
      cases: 5,
      time: [1, 2, 3, 5],
      atRisk: [5, 4, 2, 1],
      events: [[1, 1, 1, 0]],
      censored: [0, 1, 0, 1],
      entered: [0, 0, 0, 0],
      ticksAtRisk: 13,
    });
  });

  it("lets entries come last on a tick (closed form)", () => {
    const cell = cellOf({ entry: [-1, 5, 0], exit: [5, 9, 7], event: [1, 0, 1] });
    expect(cell.time).toEqual([0, 5, 7, 9]);
    // On tick 5 the case that enters is not yet at risk; on tick 0 the case that enters after it is not either.
    expect(cell.atRisk).toEqual([1, 2, 2, 1]);
    expect(cell.entered).toEqual([1, 1, 0, 0]);
    expect(cell.ticksAtRisk).toBe(5 + 4 + 7);
  });

  it("says whether entry was delayed for anybody", () => {
    expect(countsByTime({ exit: [1], event: [0] }).delayedEntry).toBe(false);
    expect(countsByTime({ exit: [1], event: [0], entry: [-1] }).delayedEntry).toBe(false);
    expect(countsByTime({ exit: [1], event: [0], entry: [0] }).delayedEntry).toBe(true);
  });

  it("orders cells by group, then stratum, and keeps empty ones", () => {
    const { cells } = countsByTime({
      exit: [4, 6],
      event: [1, 0],
      group: { codes: [0, 1], labels: ["a", "b"] },
      stratum: { codes: [1, 1], labels: ["x", "y"] },
    });
    expect(cells.map(({ group, stratum, cases }) => [group, stratum, cases])).toEqual([
      [0, 0, 0],
      [0, 1, 1],
      [1, 0, 0],
      [1, 1, 1],
    ]);
  });

  it("counts one case cut in pieces once and hides its inner ends (identity)", () => {
    const whole = cellOf({ entry: [-1, 2, 3], exit: [10, 8, 9], event: [1, 0, 1] });
    const cut = cellOf({
      entry: [4, -1, 2, 3, 7, 6],
      exit: [7, 4, 6, 9, 10, 8],
      event: [0, 0, 0, 1, 1, 0],
      caseId: [1, 1, 2, 3, 1, 2],
    });
    // The ticks of the cuts remain, with nothing on them.
    const happened = (_: unknown, at: number) =>
      (cut.events[0]?.[at] ?? 0) + (cut.censored[at] ?? 0) + (cut.entered[at] ?? 0) > 0;
    expect({
      ...cut,
      time: cut.time.filter(happened),
      atRisk: cut.atRisk.filter(happened),
      events: cut.events.map((column) => column.filter(happened)),
      censored: cut.censored.filter(happened),
      entered: cut.entered.filter(happened),
    }).toEqual(whole);
  });

  it("lets a case that changes group leave the one and enter the other", () => {
    const columns = {
      entry: [-1, 5, -1],
      exit: [5, 9, 9],
      event: [0, 1, 0],
      caseId: [1, 1, 2],
      group: { codes: [0, 1, 0], labels: ["before", "after"] },
    };
    expect(cellOf(columns, 0)).toMatchObject({ cases: 2, time: [5, 9], atRisk: [2, 1], censored: [1, 1] });
    expect(cellOf(columns, 1)).toMatchObject({ cases: 1, time: [5, 9], atRisk: [0, 1], entered: [1, 0] });
  });

  it("counts a case once in a group to which it comes back", () => {
    const columns = {
      entry: [-1, 5, 9],
      exit: [5, 9, 12],
      event: [0, 0, 1],
      caseId: [1, 1, 1],
      group: { codes: [0, 1, 0], labels: ["a", "b"] },
    };
    expect(cellOf(columns, 0)).toMatchObject({ cases: 1, atRisk: [1, 0, 1] });
  });

  it("keeps row counts beside weighted sums and leaves rows of weight 0 out", () => {
    const [cell] = countsByTime({
      exit: [1, 2, 3, 3],
      event: [1, 0, 1, 1],
      weight: { kind: "sampling", values: [0.5, 2, 0.25, 0] },
    }).cells;
    expect(cell?.cases).toBe(3);
    expect([...(cell?.atRisk ?? [])]).toEqual([3, 2, 1]);
    expect([...(cell?.weighted?.atRisk ?? [])]).toEqual([2.75, 2.25, 0.25]);
    expect([...(cell?.weighted?.events[0] ?? [])]).toEqual([0.5, 0, 0.25]);
    expect(cell?.ticksAtRisk).toBe(6);
  });

  it("does not lose light rows beside heavy ones that come later or have gone (closed form)", () => {
    const cell = countsByTime({
      exit: [1, 2, 4, 5, 6],
      event: [1, 1, 0, 1, 1],
      entry: [-1, 1, 2, 3, 5],
      weight: { kind: "sampling", values: [1e12, 3e-12, 1e11, 2e-9, 1e-12] },
    }).cells[0];
    expect([...(cell?.time ?? [])]).toEqual([1, 2, 3, 4, 5, 6]);
    expect([...(cell?.weighted?.atRisk ?? [])]).toEqual([1e12, 3e-12, 1e11, 1e11, 2e-9, 1e-12]);
  });

  it("adds cases and ticks at risk by copies, where weights are copies", () => {
    const weight = { kind: "copies", values: [3, 1, 0] } as const;
    expect(cellOf({ exit: [10, 4, 9], event: [0, 0, 1], weight })).toMatchObject({
      cases: 4,
      ticksAtRisk: 34,
    });
  });

  it("gives the same by sorting, where ticks are far apart, as by counting (identity)", () => {
    const columns = rowsOf(11, { rows: 200, groups: 2, strata: 2, causes: 2, entries: true });
    const apart = 1_000_003;
    const stretched = {
      ...columns,
      exit: columns.exit.map((tick) => tick * apart),
      entry: columns.entry?.map((tick) => (tick < 0 ? -1 : tick * apart)) ?? [],
    };
    countsByTime(columns).cells.forEach((_, at) => {
      const near = cellOf(columns, at);
      const far = cellOf(stretched, at);
      expect({
        ...far,
        time: far.time.map((tick) => tick / apart),
        ticksAtRisk: far.ticksAtRisk / apart,
      }).toEqual(near);
    });
  });

  it("leaves the caller's arrays byte for byte as they were", () => {
    const exit = Int32Array.of(3, 1, 2);
    const event = Uint8Array.of(0, 1, 1);
    const weight = { kind: "copies", values: Float64Array.of(1, 2, 1) } as const;
    countsByTime({ exit, event, weight, caseId: Int32Array.of(9, 8, 7) });
    expect([...exit, ...event, ...weight.values]).toEqual([3, 1, 2, 0, 1, 1, 1, 2, 1]);
  });

  for (const entries of [false, true]) {
    it(`agrees with asking every row at every tick, ${entries ? "late entries" : "no entries"} (twin, seed 3)`, () => {
      const columns = rowsOf(3, { rows: 300, groups: 3, strata: 1, causes: 1, entries });
      columns.group.labels.forEach((_, group) => {
        const twin = naiveSurvival(columns, group);
        const ours = cellOf(columns, group);
        expect(ours.time).toEqual(twin.map(({ tick }) => tick));
        expect(ours.atRisk).toEqual(twin.map(({ atRisk }) => atRisk));
        expect(ours.events[0]).toEqual(twin.map(({ events }) => events));
        expect(ours.censored).toEqual(twin.map(({ censored }) => censored));
      });
    });
  }
});
