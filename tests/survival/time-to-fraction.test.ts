import { describe, expect, it } from "vitest";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { type CurveOptions, kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { INTERVAL_SCALES } from "../../src/survival/results.ts";
import { timeToFraction } from "../../src/survival/time-to-fraction.ts";
import { numberColumn, referenceRecord, referenceRows, wholeTicks } from "../reference/record.ts";

const NAME_IN_RECORD = { linear: "plain", log: "log", "log-minus-log": "log-log" } as const;

/** Estimate and limits as ticks; null where not reached. */
function ticksOf(columns: ObservationColumns, fraction: number, options: CurveOptions = {}) {
  const time = timeToFraction(kaplanMeier(countsByTime(columns), options), fraction).groups[0]?.time;
  if (time?.computed !== true) throw new Error("the time was not computed");
  const [estimate, lower, upper] = [time.estimate, time.lower, time.upper].map((one) =>
    one.reached ? one.tick : null,
  );
  return { estimate, lower, upper };
}

const median = (columns: ObservationColumns, options?: CurveOptions) => ticksOf(columns, 0.5, options);

describe("timeToFraction() against reference values (R survival, first time at or below)", () => {
  const examples: readonly (readonly [string, string, string, number])[] = [
    ["km.freireich.6mp", "freireich.csv", "6-MP", 1],
    ["km.freireich.placebo", "freireich.csv", "placebo", 1],
    ["km.kaplan_meier_1958", "kaplan_meier_1958.csv", "", 10],
    ["km.ties_event_censor", "ties_event_censor.csv", "", 1],
  ];
  for (const [id, file, arm, perUnit] of examples) {
    for (const scale of INTERVAL_SCALES) {
      it(`gives the quartiles of ${id} with limits on the ${scale} scale`, () => {
        const rows = referenceRows(file).filter((row) => arm === "" || row.arm === arm);
        const columns = {
          exit: wholeTicks(numberColumn(rows, "time"), perUnit),
          event: numberColumn(rows, "status"),
        };
        const theirs = referenceRecord("01_kaplan_meier", id).expected.ci[NAME_IN_RECORD[scale]].quantiles;
        const inTicks = (value: number | null) => (value === null ? null : Math.round(value * perUnit));
        (theirs.p as number[]).forEach((fraction, at) => {
          expect(ticksOf(columns, fraction, { scale })).toEqual({
            estimate: inTicks(theirs.estimate[at]),
            lower: inTicks(theirs.lower[at]),
            upper: inTicks(theirs.upper[at]),
          });
        });
      });
    }
  }

  it("takes the first tick of a flat stretch at exactly one half, not its middle", () => {
    const { expected } = referenceRecord("01_kaplan_meier", "km.median_flat");
    const rows = referenceRows("median_flat.csv");
    const columns = { exit: numberColumn(rows, "time"), event: numberColumn(rows, "status") };
    expect(median(columns).estimate).toBe(expected.medianTextbook);
    expect([0.25, 0.5, 0.75].map((p) => ticksOf(columns, p).estimate)).toEqual(expected.quartileTextbook);
  });

  it("gives median follow-up with its limits from the reversed curve (ovarian data)", () => {
    const { quantiles } = referenceRecord("01_kaplan_meier", "km.reverse_followup.ovarian").expected;
    const rows = referenceRows("ovarian.csv");
    const columns = {
      exit: numberColumn(rows, "time"),
      event: numberColumn(rows, "status").map((status) => 1 - status),
    };
    (quantiles.p as number[]).forEach((fraction, at) => {
      expect(ticksOf(columns, fraction)).toEqual({
        estimate: quantiles.estimate[at],
        lower: quantiles.lower[at],
        upper: quantiles.upper[at],
      });
    });
  });

  it("gives the quartiles of men from 68 years on, with delayed entry (Channing House)", () => {
    const { quantiles816 } = referenceRecord("01_kaplan_meier", "km.delayed_entry.channing.male").expected;
    const rows = referenceRows("channing.csv").filter(
      (row) => row.sex === "male" && Number(row.exit) > Number(row.entry),
    );
    const columns = {
      entry: numberColumn(rows, "entry"),
      exit: numberColumn(rows, "exit"),
      event: numberColumn(rows, "status"),
    };
    const ours = (quantiles816.p as number[]).map((fraction) => ticksOf(columns, fraction, { from: 816 }));
    expect(ours.map(({ estimate }) => estimate)).toEqual(quantiles816.estimate);
    expect(ours.map(({ upper }) => upper)).toEqual(quantiles816.upper);
    // Few are at risk before the first death: their exact limits must not pull the lower limit to the start.
    expect(ours.map(({ lower }) => lower)).toEqual(quantiles816.lower);
  });
});

describe("timeToFraction() on cases known to trip programs", () => {
  it("takes the start of a plateau at one half", () => {
    expect(median({ exit: [100, 200, 320, 400], event: [1, 1, 0, 0] }).estimate).toBe(200);
  });

  it("is not led past one half by 0.50000000000000011 (closed form: survival is 12/24)", () => {
    const exit = [50, 100, 150, 200, 250, 300, 350, 400, 450, 500, 550, 600, 900];
    const censored = Array.from({ length: 11 }, (_, at) => 1000 + at);
    const columns = { exit: [...exit, ...censored], event: [...exit.map(() => 1), ...censored.map(() => 0)] };
    expect(median(columns)).toMatchObject({ estimate: 600, upper: null });
    expect(median(columns, { scale: "log" }).lower).toBe(450);
  });

  it("says that a limit is not reached rather than 0 or infinite, at 90 % as well (reference: R survival)", () => {
    const columns = {
      exit: [5, 10, 15, 20, 25, 30, 35, 40, 45, 50],
      event: [1, 0, 1, 1, 0, 1, 1, 0, 1, 0],
    };
    expect(median(columns, { scale: "linear" })).toEqual({ estimate: 35, lower: 20, upper: null });
    expect(median(columns, { scale: "log" })).toEqual({ estimate: 35, lower: 20, upper: null });
    expect(median(columns)).toEqual({ estimate: 35, lower: 5, upper: null });
    const ninety = median(columns, { level: 0.9 });
    expect(ninety.estimate).toBe(35);
    expect(ninety.lower).toBeGreaterThanOrEqual(5);
  });

  it("gives how far follow-up went where nothing is reached", () => {
    const counts = countsByTime({ exit: [250, 400, 520, 640, 800, 990], event: [1, 0, 1, 0, 0, 0] });
    expect(timeToFraction(kaplanMeier(counts), 0.5).groups[0]?.time).toMatchObject({
      computed: true,
      estimate: { reached: false, followedTo: 990 },
    });
    expect(
      median({ exit: [250, 400, 520, 640, 800, 990], event: [1, 0, 1, 0, 0, 0] }, { scale: "log" }).lower,
    ).toBe(520);
  });

  it("reaches neither the time nor a limit while the whole interval stays above (closed form)", () => {
    // One of a hundred at the start: survival 0.99 all along, its lower limit above 0.9.
    const exit = Array.from({ length: 100 }, (_, row) => (row === 0 ? 1 : 500));
    const counts = countsByTime({ exit, event: exit.map((_, row) => (row === 0 ? 1 : 0)) });
    const never = { reached: false, followedTo: 500 };
    expect(timeToFraction(kaplanMeier(counts), 0.5).groups[0]).toEqual({
      group: "all",
      time: { computed: true, estimate: never, lower: never, upper: never },
    });
  });

  it("puts the lower limit where few at risk without an event stop ruling the median out (closed form)", () => {
    // 0.025^(1/6) is 0.541, 0.025^(1/5) is 0.478: one half is excluded with six at risk and not with five.
    expect(median({ exit: [300, 450, 600, 750, 900, 1050], event: [0, 0, 0, 0, 0, 0] })).toEqual({
      estimate: null,
      lower: 450,
      upper: null,
    });
  });

  it("refuses a median that a risk set of one decided before the others came", () => {
    const counts = countsByTime({ entry: [0, 40, 45], exit: [30, 200, 260], event: [1, 1, 0] });
    expect(timeToFraction(kaplanMeier(counts), 0.5).groups[0]?.time).toMatchObject({
      computed: false,
      code: "risk-set-emptied",
    });
  });

  it("has an answer for a group without cases and refuses a fraction outside (0, 1)", () => {
    const curve = kaplanMeier(countsByTime({ exit: [], event: [] }));
    expect(timeToFraction(curve, 0.5).groups[0]?.time).toMatchObject({ computed: false, code: "no-cases" });
    expect(() => timeToFraction(curve, 0)).toThrow("fraction");
    expect(() => timeToFraction(curve, Number.NaN)).toThrow("fraction");
  });
});
