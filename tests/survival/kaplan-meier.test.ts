import { describe, expect, it } from "vitest";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { INTERVAL_SCALES } from "../../src/survival/results.ts";
import {
  codeColumn,
  expectAllRelative,
  expectPrinted,
  expectRelative,
  numberColumn,
  type ReferenceRecord,
  referenceRecord,
  referenceRows,
  wholeTicks,
} from "../reference/record.ts";
import { curveOf, eventRows, survivalAt } from "./curve-helpers.ts";

const record = (id: string) => referenceRecord("01_kaplan_meier", id);
const NAME_IN_RECORD = { linear: "plain", log: "log", "log-minus-log": "log-log" } as const;

function rowsOfFile(file: string, keep: (row: Readonly<Record<string, string>>) => boolean = () => true) {
  return referenceRows(file).filter(keep);
}

function plainColumns(
  file: string,
  keep?: (row: Readonly<Record<string, string>>) => boolean,
): ObservationColumns {
  const rows = rowsOfFile(file, keep);
  return { exit: numberColumn(rows, "time"), event: numberColumn(rows, "status") };
}

/** Steps, Greenwood standard errors and all three scales of limits of one record. */
function expectCurve(columns: ObservationColumns, { expected }: ReferenceRecord, perUnit = 1): void {
  const ours = eventRows(curveOf(columns));
  expect(ours.time).toEqual(wholeTicks(expected.time, perUnit));
  expect(ours.atRisk).toEqual(expected.nRisk);
  expect(ours.events).toEqual(expected.nEvent);
  expectAllRelative(ours.survival, expected.survival, 1e-12);
  expectAllRelative(ours.standardError, expected.se.map(nullForNaN), 1e-12);
  for (const scale of INTERVAL_SCALES) {
    const limits = eventRows(curveOf(columns, { scale }));
    const theirs = expected.ci[NAME_IN_RECORD[scale]];
    // At survival 0 there are no limits on any scale here; the reference has NaN or none.
    const defined = (values: readonly unknown[]) =>
      values.map((v, at) => (expected.survival[at] === 0 ? null : v));
    expectAllRelative(limits.lower, defined(theirs.lower) as (number | null)[], 1e-12);
    expectAllRelative(limits.upper, defined(theirs.upper) as (number | null)[], 1e-12);
  }
}

const nullForNaN = (value: unknown) => (value === "NaN" ? null : (value as number));

describe("kaplanMeier() against published and reference curves", () => {
  it("agrees with the 6-MP arm of Freireich 1963 to 1e-12 on three scales (reference: R survival)", () => {
    expectCurve(
      plainColumns("freireich.csv", (row) => row.arm === "6-MP"),
      record("km.freireich.6mp"),
    );
  });

  it("prints as Klein and Moeschberger, table 4.1A (published; figures from memory)", () => {
    const { published, valueFromMemory } = record("km.freireich.6mp");
    expect(valueFromMemory).toBe(true);
    const ours = eventRows(curveOf(plainColumns("freireich.csv", (row) => row.arm === "6-MP")));
    expectPrinted(ours.survival, published.figures.survival, 3);
    expectPrinted(ours.standardError, published.figures.se, 4);
  });

  it("ends the placebo arm at 0 with neither standard error nor limits (reference: R survival)", () => {
    const columns = plainColumns("freireich.csv", (row) => row.arm === "placebo");
    expectCurve(columns, record("km.freireich.placebo"));
    const last = curveOf(columns);
    expect(
      [last.survival, last.standardError, last.lower, last.upper, last.limits].map((column) => column.at(-1)),
    ).toEqual([0, null, null, null, "nobody left"]);
  });

  it("agrees with the eight items of Kaplan and Meier 1958 (published, from memory; tenths as ticks)", () => {
    const rows = rowsOfFile("kaplan_meier_1958.csv");
    const columns = { exit: wholeTicks(numberColumn(rows, "time"), 10), event: numberColumn(rows, "status") };
    expectCurve(columns, record("km.kaplan_meier_1958"), 10);
    expect(eventRows(curveOf(columns)).survival.map((value) => Number(value.toFixed(4)))).toEqual([
      0.875, 0.7, 0.525, 0.2625,
    ]);
  });

  it("keeps a case censored on the tick of an event at risk for it (reference: R survival)", () => {
    expectCurve(plainColumns("ties_event_censor.csv"), record("km.ties_event_censor"));
  });

  it("reads values at asked times from the step at or before them (reference: R survival)", () => {
    const { expected } = record("km.freireich.at_times");
    const arms = { "arm=6-MP": "6-MP", "arm=placebo": "placebo" } as Record<string, string>;
    (expected.time as number[]).forEach((time, at) => {
      const curve = curveOf(plainColumns("freireich.csv", (row) => row.arm === arms[expected.strata[at]]));
      expectRelative(survivalAt(curve, time), expected.survival[at], 1e-12);
    });
  });

  it("takes copies as repeated rows, limits on the log scale (reference: R survival)", () => {
    const { expected } = record("km.weighted.integer");
    const rows = rowsOfFile("aml_weighted.csv");
    const labels = ["Maintained", "Nonmaintained"];
    const columns: ObservationColumns = {
      exit: numberColumn(rows, "time"),
      event: numberColumn(rows, "status"),
      group: codeColumn(rows, "group", labels),
      weight: { kind: "copies", values: numberColumn(rows, "wInt") },
    };
    labels.forEach((label, group) => {
      const ours = eventRows(curveOf(columns, { scale: "log" }, group));
      const theirs = expected[label];
      expect(ours.time).toEqual(theirs.time);
      expect(ours.atRisk).toEqual(theirs.nRisk);
      expectAllRelative(ours.survival, theirs.survival, 1e-12);
      expectAllRelative(ours.standardError, theirs.se.map(nullForNaN), 1e-12);
      expectAllRelative(ours.lower, theirs.lower, 1e-12);
      expectAllRelative(ours.upper, theirs.upper, 1e-12);
    });
  });

  it("turns round to give follow-up: censoring as the event (reference: R survival, ovarian data)", () => {
    const { expected } = record("km.reverse_followup.ovarian");
    const rows = rowsOfFile("ovarian.csv");
    const event = numberColumn(rows, "status").map((status) => 1 - status);
    const ours = eventRows(curveOf({ exit: numberColumn(rows, "time"), event }));
    expect(ours.time).toEqual(expected.curve.time);
    expect(ours.atRisk).toEqual(expected.curve.nRisk);
    expectAllRelative(ours.survival, expected.curve.survival, 1e-12);
  });
});

describe("kaplanMeier() with delayed entry", () => {
  const channing = (sex: string): ObservationColumns => {
    const rows = rowsOfFile("channing.csv", (row) => row.sex === sex && Number(row.exit) > Number(row.entry));
    return {
      entry: numberColumn(rows, "entry"),
      exit: numberColumn(rows, "exit"),
      event: numberColumn(rows, "status"),
      timeUnit: { word: "month", perYear: 12 },
    };
  };

  for (const sex of ["male", "female"]) {
    it(`agrees with Channing House, ${sex}, whole and from 68 years on (reference: R survival)`, () => {
      const { expected } = record(`km.delayed_entry.channing.${sex}`);
      const whole = curveOf(channing(sex));
      const later = curveOf(channing(sex), { from: 816 });
      expect(whole.cases).toBe(expected.rowsUsed);
      expect(later.cases).toBe(expected.conditional816.rows);
      for (const [ours, theirs] of [
        [eventRows(whole), expected.unconditional],
        [eventRows(later), expected.conditional816],
      ] as const) {
        expect(ours.time).toEqual(theirs.time);
        expect(ours.atRisk).toEqual(theirs.nRisk);
        expectAllRelative(ours.survival, theirs.survival, 1e-12);
        const alive = theirs.survival.map((value: number) => value > 0);
        expectAllRelative(
          ours.standardError.filter((_, at) => alive[at]),
          theirs.se.filter((_: unknown, at: number) => alive[at]),
          1e-12,
        );
      }
    });
  }

  it("says where an early risk set emptied and holds the curve at 0 (men of Channing House)", () => {
    const curve = curveOf(channing("male"), { years: [70] });
    expect(curve.emptiedAt).toBe(781);
    expect(curve.survival.at(-1)).toBe(0);
    expect(curve.atYears[0]).toMatchObject({ computed: false });
    expect(curveOf(channing("male"), { from: 816 }).emptiedAt).toBeNull();
  });

  // One knee is alone under observation on day 30 and revised then; seven enter from day 40 on.
  const oneEarlyRevision: ObservationColumns = {
    entry: [0, 40, 45, 50, 60, 60, 90, 120],
    exit: [30, 200, 260, 300, 420, 500, 700, 800],
    event: [1, 1, 0, 1, 0, 1, 0, 0],
  };

  it("does not print 0 % for ever after one early revision in a risk set of one (closed form)", () => {
    const curve = curveOf(oneEarlyRevision);
    expect(eventRows(curve).atRisk).toEqual([1, 7, 5, 3]);
    expect(eventRows(curve).survival).toEqual([0, 0, 0, 0]);
    expect(curve.emptiedAt).toBe(30);
    const later = eventRows(curveOf(oneEarlyRevision, { from: 40 }));
    expect(later.atRisk).toEqual([7, 5, 3]);
    expectAllRelative(later.survival, [6 / 7, (6 / 7) * (4 / 5), (6 / 7) * (4 / 5) * (2 / 3)], 1e-15);
  });

  it("refuses curve and year values once an early risk set emptied, however many follow (closed form)", () => {
    const many = Array.from({ length: 100 }, (_, at) => at);
    const columns = {
      entry: [0, ...many.map(() => 40)],
      exit: [30, ...many.map((at) => 500 + at)],
      event: [1, ...many.map((at) => (at < 50 ? 1 : 0))],
    };
    const refused = curveOf(columns, { years: [1] });
    expect(refused.drawnTo).toMatchObject({ computed: false, code: "risk-set-emptied" });
    expect(refused.atYears[0]).toMatchObject({ computed: false, code: "risk-set-emptied" });
    expect(curveOf(columns, { years: [1.5], from: 30 }).atYears[0]).toMatchObject({
      computed: true,
      events: 48,
    });
  });

  it("notices a risk set that empties without an event", () => {
    const curve = curveOf({ entry: [0, 20, 20], exit: [10, 30, 40], event: [0, 1, 0] });
    expect(curve.emptiedAt).toBe(10);
    expect(curve.survival).toEqual([1, 1, 1, 0.5, 0.5]);
  });
});
