import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { INTERVAL_SCALES } from "../../src/survival/results.ts";
import { expectAllRelative } from "../reference/record.ts";
import { columnsOf, drawnRows, RUNS, reordered } from "./arbitrary-rows.ts";
import { curveOf, eventRows } from "./curve-helpers.ts";
import { naiveSurvival } from "./naive-counts.ts";
import { rowsOf } from "./some-rows.ts";

const curve = (columns: ObservationColumns) => kaplanMeier(countsByTime(columns));

describe("kaplanMeier() identities", () => {
  for (const entries of [false, true]) {
    it(`agrees with asking every row at every tick, ${entries ? "late entries" : "no entries"} (twin, seed 5)`, () => {
      const columns = rowsOf(5, { rows: 400, groups: 3, strata: 2, causes: 2, entries });
      columns.group.labels.forEach((_, group) => {
        const twin = naiveSurvival(columns, group);
        const ours = curveOf(columns, {}, group);
        expectAllRelative(
          ours.survival,
          twin.map(({ survival }) => survival),
          1e-12,
        );
        const alive = twin.filter(({ survival }) => survival > 1e-12);
        expectAllRelative(
          ours.standardError.slice(0, alive.length),
          alive.map(({ standardError }) => standardError),
          1e-10,
        );
      });
    });
  }

  it("does not care about the order of rows", () => {
    fc.assert(
      fc.property(drawnRows, fc.array(fc.nat(), { minLength: 1, maxLength: 40 }), (rows, keys) => {
        expect(curve(columnsOf(reordered(rows, keys)))).toEqual(curve(columnsOf(rows)));
      }),
      RUNS,
    );
  });

  it("takes a copy weight of k as the row k times", () => {
    fc.assert(
      fc.property(
        drawnRows.filter((rows) => rows.some(({ weight }) => weight > 0)),
        (rows) => {
          const repeated = rows.flatMap((row) => new Array(row.weight).fill(row));
          const copies = curve(columnsOf(rows, "copies"));
          expect(copies.groups).toEqual(curve(columnsOf(repeated)).groups);
        },
      ),
      RUNS,
    );
  });

  it("only renames ticks when ticks are stretched", () => {
    fc.assert(
      fc.property(drawnRows, fc.integer({ min: 2, max: 5000 }), (rows, stretch) => {
        const longer = rows.map((row) => ({
          ...row,
          entry: row.entry < 0 ? -1 : row.entry * stretch,
          exit: row.exit * stretch,
        }));
        const [near, far] = [curve(columnsOf(rows)).groups, curve(columnsOf(longer)).groups];
        near.forEach((group, at) => {
          expect(far[at]?.survival).toEqual(group.survival);
          expect(far[at]?.lower).toEqual(group.lower);
          expect(far[at]?.time).toEqual(group.time.map((tick) => tick * stretch));
        });
      }),
      RUNS,
    );
  });

  it("gives the same curve of rows cut in two at any tick", () => {
    fc.assert(
      fc.property(drawnRows, fc.integer({ min: 0, max: 15 }), (rows, cut) => {
        const pieces = rows.flatMap((row, caseId) =>
          cut > row.entry && cut < row.exit
            ? [
                { ...row, exit: cut, event: 0, caseId },
                { ...row, entry: cut, caseId },
              ]
            : [{ ...row, caseId }],
        );
        const cutUp = curve({ ...columnsOf(pieces), caseId: pieces.map(({ caseId }) => caseId) });
        curve(columnsOf(rows)).groups.forEach((group, at) => {
          const other = cutUp.groups[at];
          expect(other && eventRows(other)).toEqual(eventRows(group));
          expect([other?.cases, other?.events, other?.followedTo]).toEqual([
            group.cases,
            group.events,
            group.followedTo,
          ]);
        });
      }),
      RUNS,
    );
  });

  it("gives entry at 0 the same curve as no entry where every exit is at least 1", () => {
    fc.assert(
      fc.property(drawnRows, (rows) => {
        const fromStart = rows.map((row) => ({ ...row, exit: Math.max(1, row.exit) }));
        const at0 = curve(columnsOf(fromStart.map((row) => ({ ...row, entry: 0 }))));
        const none = curve(columnsOf(fromStart.map((row) => ({ ...row, entry: -1 }))));
        at0.groups.forEach((group, at) => {
          const other = none.groups[at];
          expect(other && eventRows(other)).toEqual(eventRows(group));
        });
      }),
      RUNS,
    );
  });

  it("puts strata together as if there were none", () => {
    fc.assert(
      fc.property(drawnRows, (rows) => {
        const { stratum: _, ...unstratified } = columnsOf(rows);
        expect(curve(columnsOf(rows)).groups).toEqual(curve(unstratified).groups);
      }),
      RUNS,
    );
  });

  it("holds its limits in [0, 1] round the estimate and never at zero width, on every scale", () => {
    fc.assert(
      fc.property(drawnRows, fc.constantFrom(...INTERVAL_SCALES), (rows, scale) => {
        for (const group of kaplanMeier(countsByTime(columnsOf(rows)), { scale }).groups) {
          const faults = group.survival.filter((value, step) => {
            const [lower, upper] = [group.lower[step] ?? null, group.upper[step] ?? null];
            if (lower === null || upper === null)
              return lower !== upper || group.limits[step] !== "nobody left";
            return !(lower >= 0 && lower <= value && value <= upper && upper <= 1 && lower < upper);
          });
          expect(faults).toEqual([]);
        }
      }),
      RUNS,
    );
  });

  it("equals the share without the event where nobody is censored (closed form)", () => {
    const exit = Array.from({ length: 50 }, (_, at) => 1 + ((at * 7) % 23));
    const ours = curveOf({ exit, event: exit.map(() => 1) });
    ours.time.forEach((tick, step) => {
      expect(ours.survival[step]).toBeCloseTo(exit.filter((one) => one > tick).length / 50, 13);
    });
  });
});

describe("kaplanMeier() at the edges", () => {
  const edges: readonly (readonly [string, ObservationColumns, readonly number[]])[] = [
    ["nobody", { exit: [], event: [] }, []],
    ["one case without an event", { exit: [4], event: [0] }, [1]],
    ["one case with an event", { exit: [4], event: [1] }, [0]],
    ["no events", { exit: [1, 2, 3], event: [0, 0, 0] }, [1, 1, 1]],
    ["all events", { exit: [1, 2, 4], event: [1, 1, 1] }, [2 / 3, 1 / 3, 0]],
    ["all tied", { exit: [6, 6, 6], event: [1, 1, 0] }, [1 / 3]],
    ["an event on day 0", { exit: [0, 3], event: [1, 0] }, [0.5, 0.5]],
    ["an event last", { exit: [2, 5], event: [0, 1] }, [1, 0]],
    [
      "a risk set that empties before late entries",
      { entry: [-1, 5], exit: [3, 9], event: [1, 1] },
      [0, 0, 0],
    ],
  ];
  for (const [name, columns, survival] of edges) {
    it(`answers for ${name}`, () => {
      const ours = curveOf(columns, { years: [0, 1] });
      expectAllRelative(ours.survival, survival, 1e-14);
      expect(JSON.stringify(ours)).not.toMatch(/NaN|Infinity/);
      // JSON writes NaN and the infinities as null: nulls stand only where limits say why.
      const nulls = ours.limits.filter((source) => source === "nobody left").length;
      expect(ours.lower.filter((limit) => limit === null).length).toBe(nulls);
      expect(
        [...ours.standardError, ...ours.survival].every((value) => value === null || Number.isFinite(value)),
      ).toBe(true);
    });
  }

  it("keeps an empty group with no steps", () => {
    const empty = curveOf({ exit: [3], event: [1], group: { codes: [0], labels: ["a", "b"] } }, {}, 1);
    expect(empty).toMatchObject({ group: "b", cases: 0, events: 0, time: [], followedTo: 0 });
  });
});
