import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { cumulativeIncidence } from "../../src/survival/cumulative-incidence.ts";
import { kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import { type LossBoundsOptions, lossBounds } from "../../src/survival/loss-bounds.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { columnsOf, drawnRows, RUNS } from "./arbitrary-rows.ts";
import { survivalAt } from "./curve-helpers.ts";
import { rowsOf } from "./some-rows.ts";

const year = TIME_UNITS.year;

function netOf(columns: ObservationColumns, lost: readonly number[], possible: readonly number[]) {
  const bounds = lossBounds(
    columns,
    { lost, possible },
    { risk: "net", cause: columns.causes?.[0] ?? "event" },
  );
  if (bounds.risk !== "net") throw new Error("net curves were asked for");
  return bounds;
}

function crudeOf(columns: ObservationColumns, lost: readonly number[], possible: readonly number[]) {
  const bounds = lossBounds(
    columns,
    { lost, possible },
    { risk: "crude", cause: columns.causes?.[0] ?? "event" },
  );
  if (bounds.risk !== "crude") throw new Error("crude curves were asked for");
  return bounds;
}

/** Incidence at a tick: the step at or before it. */
function incidenceAt(
  curve: { time: readonly number[]; incidence: readonly number[] } | undefined,
  tick: number,
) {
  const step = curve?.time.findLastIndex((time) => time <= tick) ?? -1;
  return step < 0 ? 0 : (curve?.incidence[step] ?? Number.NaN);
}

describe("lossBounds()", () => {
  it("puts the event on the day of loss, or follows to the possible end (closed form)", () => {
    // Five knees; the one that ends on 2 is lost and could have been followed to 6.
    const columns = { exit: [1, 2, 3, 6, 6], event: [1, 0, 1, 0, 0], timeUnit: year };
    const { estimate, worst, best, groups } = netOf(columns, [0, 1, 0, 0, 0], [9, 6, 9, 9, 9]);
    const at = [1, 2, 3, 6];
    const values = (curve: typeof estimate) =>
      at.map((tick) => Math.round(1e12 * survivalAt(curve.groups[0]!, tick)) / 1e12);
    expect(values(estimate)).toEqual([0.8, 0.8, 0.533333333333, 0.533333333333]);
    expect(values(worst)).toEqual([0.8, 0.6, 0.4, 0.4]);
    expect(values(best)).toEqual([0.8, 0.8, 0.6, 0.6]);
    expect(groups).toEqual([{ group: "all", rows: 5, lost: 1 }]);
    expect(best.groups[0]?.events).toBe(2);
    expect(worst.groups[0]?.events).toBe(3);
  });

  it("shows the estimators' own curves: as seen, and twice of rows changed by hand (twin)", () => {
    const rows = {
      ...rowsOf(95, { rows: 150, groups: 2, strata: 2, causes: 2, entries: true }),
      timeUnit: year,
    };
    const { cluster: _, ...columns } = rows;
    const lost = columns.event.map((code, row) => (code === 0 && row % 3 === 0 ? 1 : 0));
    const possible = columns.exit.map((exit, row) => exit + (row % 7));
    const { estimate, worst, best } = netOf(columns, lost, possible);
    const options = { event: ["cause 1"] };
    expect(estimate).toEqual(kaplanMeier(countsByTime(columns), options));
    const event = columns.event.map((code, row) => (lost[row] === 1 ? 1 : code));
    expect(worst).toEqual(kaplanMeier(countsByTime({ ...columns, event }), options));
    const exit = columns.exit.map((tick, row) => (lost[row] === 1 ? (possible[row] ?? tick) : tick));
    expect(best).toEqual(kaplanMeier(countsByTime({ ...columns, exit }), options));
    const crude = crudeOf(columns, lost, possible);
    const { curves } = cumulativeIncidence(countsByTime({ ...columns, event }));
    expect(crude.worst.curves).toEqual(curves.filter(({ cause }) => cause === "cause 1"));
    // Clustered rows get the clustered variance.
    const clustered = crudeOf(rows, lost, possible);
    expect(clustered.best.settings.clusteredBy).toBe("surgeon");
    expect(clustered.worst.curves[0]?.incidence).toEqual(crude.worst.curves[0]?.incidence);
  });

  it("needs no name where there is only one cause", () => {
    const columns = { exit: [1, 2, 4], event: [1, 0, 0] };
    const lost = { lost: [0, 1, 0], possible: [1, 3, 4] };
    const named = lossBounds(columns, lost, { risk: "net", cause: "event" });
    expect(lossBounds(columns, lost, { risk: "net" })).toEqual(named);
  });

  it("is the estimate three times where nobody was lost", () => {
    const columns = { exit: [1, 2, 4], event: [1, 0, 0] };
    const { estimate, worst, best } = netOf(columns, [0, 0, 0], [9, 9, 9]);
    expect(worst).toEqual(estimate);
    expect(best).toEqual(estimate);
  });

  it("holds net survival between the worst and the best case, late entries or not", () => {
    const chosen = fc.array(fc.nat(5), { minLength: 24, maxLength: 24 });
    fc.assert(
      fc.property(drawnRows, chosen, (rows, more) => {
        const lost = rows.map(({ event }, row) => (event === 0 && (more[row] ?? 0) > 0 ? 1 : 0));
        const possible = rows.map(({ exit }, row) => exit + (more[row] ?? 0));
        const { estimate, worst, best } = netOf(columnsOf(rows), lost, possible);
        estimate.groups.forEach((group, at) => {
          for (let tick = 0; tick <= group.followedTo; tick += 1) {
            const middle = survivalAt(group, tick);
            expect(survivalAt(worst.groups[at]!, tick)).toBeLessThanOrEqual(middle + 1e-12);
            expect(survivalAt(best.groups[at]!, tick)).toBeGreaterThanOrEqual(middle - 1e-12);
          }
        });
      }),
      RUNS,
    );
  });

  it("holds crude incidence between the two up to the first possible end of a lost row", () => {
    const chosen = fc.array(fc.nat(5), { minLength: 24, maxLength: 24 });
    fc.assert(
      fc.property(
        drawnRows,
        chosen,
        fc.array(fc.nat(2), { minLength: 24, maxLength: 24 }),
        (rows, more, codes) => {
          const event = rows.map((_, row) => codes[row] ?? 0);
          const { entry: _, ...plain } = columnsOf(rows);
          const columns = { ...plain, event, causes: ["revision", "death"] };
          const lost = event.map((code, row) => (code === 0 && (more[row] ?? 0) > 0 ? 1 : 0));
          const possible = rows.map(({ exit }, row) => exit + (more[row] ?? 0));
          const { estimate, worst, best } = crudeOf(columns, lost, possible);
          const firstEnd = Math.min(1000, ...possible.filter((_, row) => lost[row] === 1));
          estimate.curves.forEach((curve, at) => {
            for (let tick = 0; tick <= curve.followedTo; tick += 1) {
              const middle = incidenceAt(curve, tick);
              expect(incidenceAt(worst.curves[at], tick)).toBeGreaterThanOrEqual(middle - 1e-12);
              if (tick <= firstEnd)
                expect(incidenceAt(best.curves[at], tick)).toBeLessThanOrEqual(middle + 1e-12);
            }
          });
        },
      ),
      RUNS,
    );
  });

  it("can pass above the estimate later on, where the best case outlived the competing cause (closed form)", () => {
    // Lost on 1 and followed to 3: meanwhile 3 of 5 die, and on 4 half of those left are revised.
    const columns = {
      exit: [1, 2, 2, 2, 4, 5],
      event: [0, 2, 2, 2, 1, 0],
      causes: ["revision", "death"],
      timeUnit: year,
    };
    const { estimate, best } = crudeOf(columns, [1, 0, 0, 0, 0, 0], [3, 9, 9, 9, 9, 9]);
    expect(incidenceAt(estimate.curves[0], 5)).toBeCloseTo((2 / 5) * (1 / 2), 14);
    expect(incidenceAt(best.curves[0], 5)).toBeCloseTo((3 / 6) * (1 / 2), 14);
  });

  it("refuses who cannot be lost and ends that cannot be", () => {
    const columns = { exit: [4, 9, 6], event: [1, 0, 0], caseId: [1, 2, 2], entry: [-1, 6, -1] };
    const refused = (
      lost: readonly number[],
      possible: readonly number[],
      options: Partial<LossBoundsOptions> = {},
    ) => expect(() => lossBounds(columns, { lost, possible }, { risk: "net", ...options }));
    const ends = [9, 9, 9];
    refused([1, 0, 0], ends).toThrow("row 1: a row with an event is not lost");
    refused([0, 0, 1], ends).toThrow("row 3: its case goes on");
    refused([0, 2, 0], ends).toThrow("row 2, lost: must be 0 or 1");
    refused([0, 1, 0], [9, 8, 9]).toThrow("row 2, possible");
    for (const end of [Number.NaN, 9.5, 3e9]) refused([0, 1, 0], [9, end, 9]).toThrow("row 2, possible");
    refused([0, 1], ends).toThrow("lost has 2 elements");
    refused([0, 1, 0], [9]).toThrow("possible has 1 elements");
    refused([0, 1, 0], ends, { cause: "loosening" }).toThrow("no cause is named");
    refused([0, 1, 0], ends, { risk: "gross" as "net" }).toThrow('"net" or "crude"');
    expect(() =>
      lossBounds({ ...columns, causes: ["a", "b"] }, { lost: [0, 1, 0], possible: ends }, { risk: "net" }),
    ).toThrow("name the cause");
  });

  it("takes nobody, and leaves the caller's columns alone", () => {
    expect(netOf({ exit: [], event: [] }, [], []).groups).toEqual([{ group: "all", rows: 0, lost: 0 }]);
    const columns = { exit: Int32Array.of(3, 5), event: Uint8Array.of(0, 1) };
    netOf(columns, [1, 0], [8, 5]);
    expect([[...columns.exit], [...columns.event]]).toEqual([
      [3, 5],
      [0, 1],
    ]);
  });
});
