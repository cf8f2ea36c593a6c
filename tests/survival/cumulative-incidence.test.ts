import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { cumulativeIncidence, eventFreeShare } from "../../src/survival/cumulative-incidence.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import type { IncidenceSteps } from "../../src/survival/results.ts";
import {
  codeColumn,
  expectRelative,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../reference/record.ts";
import { naiveIncidence } from "./naive-incidence.ts";
import { rowsOf } from "./some-rows.ts";

const at = (curve: IncidenceSteps, tick: number) => curve.time.filter((time) => time <= tick).length - 1;

describe("cumulativeIncidence() against reference numbers", () => {
  const rows = referenceRows("mgus2.csv");
  const columns = {
    exit: numberColumn(rows, "time"),
    event: numberColumn(rows, "event"),
    group: codeColumn(rows, "sex", ["F", "M"]),
    causes: ["malignancy", "death"],
    timeUnit: TIME_UNITS.month,
  };
  const { expected } = referenceRecord("04_competing_risks", "cif.mgus2_by_sex");

  for (const scale of ["log", "linear"] as const) {
    it(`gives estimates, standard errors and ${scale} limits of two causes in two groups`, () => {
      // Reference (R survival 3.5-3): the infinitesimal jackknife and the Greenwood-type variance agree there too.
      const { curves } = cumulativeIncidence(countsByTime(columns), { scale });
      ["F", "M"].forEach((group, groupAt) => {
        [1, 2].forEach((cause) => {
          const curve = curves[2 * groupAt + cause - 1] as IncidenceSteps;
          const wanted = expected[group][`cause${cause}`];
          expected[group].times.forEach((tick: number, place: number) => {
            const step = at(curve, tick);
            const name = scale === "log" ? "log" : "plain";
            expectRelative(curve.incidence[step], wanted.cif[place], 1e-11);
            expectRelative(curve.standardError[step], wanted.seInfinitesimalJackknife[place], 1e-9);
            expectRelative(curve.lower[step], wanted[`${name}Lower`][place], 1e-9);
            expectRelative(curve.upper[step], wanted[`${name}Upper`][place], 1e-9);
          });
        });
      });
    });
  }

  it("gives the value of the step at or before a year, and stops where fewer than a tenth are at risk", () => {
    const [curve] = cumulativeIncidence(countsByTime(columns), { years: [5, 20, 40] }).curves;
    const [five, twenty, forty] = curve?.atYears ?? [];
    if (five?.computed !== true) throw new Error("5 years is within reach");
    expectRelative(five.value, expected.F.cause1.cif[1], 1e-11);
    expect(five.tick).toBe(60);
    expect(five.atRisk).toBe(expected.F.atRisk[1]);
    // At 20 years 33 of 631 are at risk: under max(40, 63.1).
    expect(twenty).toMatchObject({ computed: false, code: "too-few-at-risk" });
    expect(forty).toMatchObject({ computed: false, code: "beyond-follow-up" });
  });

  it("handles ties between causes on ten rows written out by hand", () => {
    const hand = referenceRows("cif_hand.csv");
    const { expected: wanted } = referenceRecord("04_competing_risks", "cif.hand");
    const counts = countsByTime({
      exit: numberColumn(hand, "time"),
      event: numberColumn(hand, "event"),
      causes: ["one", "two"],
    });
    const [one, two] = cumulativeIncidence(counts).curves;
    expect(one?.time).toEqual(wanted.time);
    wanted.time.forEach((_: number, step: number) => {
      expectRelative(one?.incidence[step], wanted.cif1[step], 1e-11);
      expectRelative(two?.incidence[step], wanted.cif2[step], 1e-11);
      expect(one?.standardError[step]).toBeCloseTo(wanted.seInfinitesimalJackknife1[step], 12);
      expect(two?.standardError[step]).toBeCloseTo(wanted.seInfinitesimalJackknife2[step], 12);
      expect(eventFreeShare(counts, 0).share[step]).toBeCloseTo(wanted.eventFree[step], 12);
    });
  });
});

describe("cumulativeIncidence() in closed form", () => {
  it("gives exact fractions for twelve knees", () => {
    // Closed form: fractions by hand. Twelve invented knees, half-years, censorings after events.
    const counts = countsByTime({
      exit: [1, 2, 4, 4, 8, 12, 6, 7, 10, 11, 12, 14],
      event: [2, 3, 1, 0, 1, 0, 0, 3, 1, 0, 2, 0],
      causes: ["loosening", "other", "death"],
    });
    const [loosening, other, death] = cumulativeIncidence(counts).curves;
    const value = (curve: IncidenceSteps | undefined, tick: number) =>
      curve?.incidence[at(curve, tick)] ?? -1;
    expect(value(loosening, 4)).toBeCloseTo(1 / 12, 15);
    expect(value(loosening, 8)).toBeCloseTo(4 / 21, 15);
    expect(value(loosening, 12)).toBeCloseTo(25 / 84, 15);
    expect(value(other, 12)).toBeCloseTo(19 / 84, 15);
    expect(value(death, 12)).toBeCloseTo(4 / 21, 15);
    expect(eventFreeShare(counts, 0).share.at(-1)).toBeCloseTo(2 / 7, 15);
  });

  it("equals one minus survival, Greenwood and log-minus-log limits, without competing causes", () => {
    // Closed form: the product of shares kept, Greenwood's sum, and the limits written out from them.
    const counts = countsByTime({ exit: [6, 6, 6, 6, 7, 9, 10, 10], event: [1, 1, 1, 0, 1, 0, 1, 0] });
    const [curve] = cumulativeIncidence(counts).curves;
    let [survival, greenwood] = [1, 0];
    [
      [8, 3],
      [4, 1],
      [3, 0],
      [2, 1],
    ].forEach(([n = 0, d = 0], step) => {
      survival *= 1 - d / n;
      greenwood += d / (n * (n - d));
      const error = survival * Math.sqrt(greenwood);
      expectRelative(curve?.incidence[step], 1 - survival, 1e-14);
      expectRelative(curve?.standardError[step], error, 1e-13);
      const width = (1.959963984540054 * error) / (survival * Math.abs(Math.log(survival)));
      expectRelative(curve?.lower[step], 1 - Math.exp(Math.log(survival) * Math.exp(-width)), 1e-12);
      expectRelative(curve?.upper[step], 1 - Math.exp(Math.log(survival) * Math.exp(width)), 1e-12);
    });
  });

  it("gives the exact binomial limit while no event of a cause has been seen, never a width of zero", () => {
    // Closed form: 1 − 0.025^(1/n) for 0 of n.
    const counts = countsByTime({ exit: [1, 2, 3, 4], event: [2, 0, 2, 0], causes: ["revision", "death"] });
    const [curve] = cumulativeIncidence(counts).curves;
    expect(curve?.limits).toEqual(["none seen", "none seen", "none seen", "none seen"]);
    expect(curve?.lower).toEqual([0, 0, 0, 0]);
    [4, 3, 2, 1].forEach((n, step) => {
      expectRelative(curve?.upper[step], 1 - Math.exp(Math.log(0.025) / n), 1e-12);
    });
  });
});

describe("cumulativeIncidence() on two invented centres", () => {
  const columns = {
    exit: [100, 155, 210, 265, 320, 375, 430, 485, 90, 180, 260, 340, 430, 500, 560, 610],
    event: [2, 0, 2, 0, 2, 0, 2, 0, 1, 2, 1, 0, 1, 2, 0, 0],
    group: { codes: [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1], labels: ["A", "B"] },
    causes: ["revision", "death"],
  };

  it("keeps the centre without a revision, and gives 0.40625 for the other at day 600", () => {
    // Reference (cmprsk 2.2-11).
    const [inA, , inB] = cumulativeIncidence(countsByTime(columns)).curves;
    expect(inA).toMatchObject({ group: "A", events: 0 });
    expect(inA?.incidence.at(-1)).toBe(0);
    expect(inB?.incidence[at(inB, 600)]).toBeCloseTo(0.40625, 14);
  });

  it("takes the step before a tick on which nothing happens, and gives the same bits each time", () => {
    const [, , inB] = cumulativeIncidence(countsByTime(columns)).curves;
    // Closed form: nothing between day 180 and day 260.
    expect([179, 180, 259, 260].map((tick) => (inB ? at(inB, tick) : -1))).toEqual([0, 1, 1, 2]);
    const text = () => JSON.stringify(cumulativeIncidence(countsByTime(columns)));
    expect(text()).toBe(text());
  });
});

describe("cumulativeIncidence() against a second implementation", () => {
  it("agrees with a double loop over rows on untidy data with strata, entries and ties", () => {
    const columns = rowsOf(7, { rows: 300, groups: 3, strata: 2, entries: true, causes: 3 });
    const { curves } = cumulativeIncidence(countsByTime(columns));
    for (const curve of curves) {
      curve.time.forEach((tick, step) => {
        const twin = naiveIncidence(columns, curve.group, curve.cause, tick);
        expect(curve.incidence[step]).toBeCloseTo(twin.incidence, 12);
        expect((curve.standardError[step] ?? 0) * (curve.standardError[step] ?? 0)).toBeCloseTo(
          twin.variance,
          12,
        );
      });
    }
  });
});

describe("cumulativeIncidence() keeps its identities", () => {
  const drawn = fc.record({
    seed: fc.nat(1_000_000),
    rows: fc.integer({ min: 1, max: 60 }),
    causes: fc.integer({ min: 1, max: 3 }),
    entries: fc.boolean(),
  });

  it("adds up to one over all causes and the event-free share, rises, and keeps limits around the estimate", () => {
    fc.assert(
      fc.property(drawn, ({ seed, ...shape }) => {
        const counts = countsByTime(rowsOf(seed, { ...shape, groups: 1, strata: 1 }));
        const { curves } = cumulativeIncidence(counts);
        eventFreeShare(counts, 0).share.forEach((free, step) => {
          const sum = curves.reduce((total, curve) => total + (curve.incidence[step] ?? 0), free);
          expect(sum).toBeCloseTo(1, 12);
        });
        for (const curve of curves) {
          curve.incidence.forEach((value, step) => {
            expect(value).toBeGreaterThanOrEqual(curve.incidence[step - 1] ?? 0);
            const [lower, upper] = [curve.lower[step], curve.upper[step]];
            if (typeof lower !== "number" || typeof upper !== "number") return;
            expect(lower).toBeGreaterThanOrEqual(0);
            expect(lower).toBeLessThanOrEqual(value);
            expect(upper).toBeGreaterThan(value);
            expect(upper).toBeLessThanOrEqual(1);
          });
        }
      }),
      { seed: 20_240_501, numRuns: 150 },
    );
  });

  it("is the same for rows in any order", () => {
    const columns = rowsOf(11, { rows: 200, groups: 2, strata: 2, entries: true, causes: 2 });
    const order = [...columns.exit.keys()].reverse();
    expect(cumulativeIncidence(countsByTime(reordered(columns, order)))).toEqual(
      cumulativeIncidence(countsByTime(columns)),
    );
  });

  it("takes a weight of two copies as the row twice", () => {
    const columns = rowsOf(12, { rows: 80, groups: 2, strata: 1, entries: false, causes: 2 });
    const twice = reordered(columns, [...columns.exit.keys(), ...columns.exit.keys()]);
    const weight = { kind: "copies" as const, values: columns.exit.map(() => 2) };
    const weighted = cumulativeIncidence(countsByTime({ ...columns, weight })).curves;
    const repeated = cumulativeIncidence(countsByTime(twice)).curves;
    weighted.forEach(({ cases: _, ...curve }, place) => {
      const { cases: __, ...other } = repeated[place] as IncidenceSteps;
      expect(curve).toEqual(other);
    });
  });

  it("takes entry before tick 0 as no entry", () => {
    const columns = rowsOf(13, { rows: 60, groups: 1, strata: 1, entries: false, causes: 2 });
    const entered = cumulativeIncidence(countsByTime({ ...columns, entry: columns.exit.map(() => -1) }));
    expect(entered).toEqual(cumulativeIncidence(countsByTime(columns)));
  });
});

describe("cumulativeIncidence() at the edges", () => {
  const curveOf = (columns: ObservationColumns) =>
    cumulativeIncidence(countsByTime(columns)).curves[0] as IncidenceSteps;
  const causes = ["revision", "death"];

  it("takes nobody, an empty group and one case", () => {
    expect(curveOf({ exit: [], event: [], causes })).toMatchObject({ time: [], cases: 0, events: 0 });
    const group = { codes: [1], labels: ["empty", "full"] };
    const [empty, , full] = cumulativeIncidence(
      countsByTime({ exit: [5], event: [1], causes, group }),
    ).curves;
    expect(empty).toMatchObject({ group: "empty", time: [], atYears: [] });
    expect(full).toMatchObject({ incidence: [1], lower: [null], upper: [null], limits: ["nobody left"] });
  });

  it("counts a revision on tick 0 with everybody at risk", () => {
    expect(curveOf({ exit: [0, 5, 5, 5], event: [1, 0, 0, 0], causes })).toMatchObject({
      incidence: [0.25, 0.25],
    });
  });

  it("stays at the share reached when all events fall on one tick or the last case has one", () => {
    expect(curveOf({ exit: [4, 4, 4, 4], event: [1, 1, 2, 2], causes }).incidence).toEqual([0.5]);
    // Closed form: binomial variance of 2 of 4.
    expect(curveOf({ exit: [4, 4, 4, 4], event: [1, 1, 2, 2], causes }).standardError).toEqual([0.25]);
    expect(curveOf({ exit: [1, 2], event: [2, 1], causes }).incidence).toEqual([0, 0.5]);
  });

  it("cannot rise again after a risk set has emptied before late entries", () => {
    const late = curveOf({ exit: [30, 200, 300], event: [1, 1, 0], entry: [-1, 40, 50], causes });
    expect(late.incidence.at(-1)).toBe(1);
    expect(late.limits.at(-1)).toBe("nobody left");
    // The same with enough at risk to draw: the curve is refused from there on.
    const many = Array.from({ length: 50 }, (_, row) => 200 + row);
    const entered = {
      exit: [30, ...many],
      event: [1, ...many.map(() => 0)],
      entry: [-1, ...many.map(() => 40)],
      causes,
    };
    expect(curveOf(entered).drawnTo).toMatchObject({ computed: false, code: "risk-set-emptied" });
  });

  it("keeps a group without the event, with its interval", () => {
    const group = { codes: [0, 0, 1, 1], labels: ["A", "B"] };
    const { curves } = cumulativeIncidence(
      countsByTime({ exit: [1, 2, 1, 2], event: [0, 2, 1, 0], causes, group }),
    );
    expect(curves.map((curve) => [curve.group, curve.cause, curve.events])).toEqual([
      ["A", "revision", 0],
      ["A", "death", 1],
      ["B", "revision", 1],
      ["B", "death", 0],
    ]);
  });

  it("refuses a level in per cent and sampling weights", () => {
    const counts = countsByTime({ exit: [1], event: [1] });
    expect(() => cumulativeIncidence(counts, { level: 95 })).toThrow("write 0.95");
    const weight = { kind: "sampling" as const, values: [1.5] };
    expect(() => cumulativeIncidence(countsByTime({ exit: [1], event: [1], weight }))).toThrow(
      "clusteredIncidence",
    );
  });

  it("leaves the caller's columns as they were", () => {
    const columns = { exit: Int32Array.of(3, 1, 2), event: Uint8Array.of(1, 0, 1) };
    cumulativeIncidence(countsByTime(columns));
    expect([...columns.exit, ...columns.event]).toEqual([3, 1, 2, 1, 0, 1]);
  });
});

function reordered(columns: ReturnType<typeof rowsOf>, order: readonly number[]): ReturnType<typeof rowsOf> {
  const pick = (values: readonly number[]) => order.map((row) => values[row] ?? 0);
  const { exit, event, entry, group, stratum, cluster } = columns;
  return {
    ...columns,
    exit: pick(exit),
    event: pick(event),
    ...(entry && { entry: pick(entry) }),
    group: { ...group, codes: pick(group.codes) },
    stratum: { ...stratum, codes: pick(stratum.codes) },
    cluster: { ...cluster, codes: pick(cluster.codes) },
  };
}
