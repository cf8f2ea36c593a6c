import { describe, expect, it } from "vitest";
import type { NotComputed } from "../../src/base/answer.ts";
import { ArgumentError } from "../../src/base/errors.ts";
import { eventShare } from "../../src/planning/event-share.ts";
import { eventsRequired } from "../../src/planning/events-required.ts";
import { powerOfEvents } from "../../src/planning/power-of-events.ts";
import { type UnitsRequiredInput, unitsRequired } from "../../src/planning/units-required.ts";
import { yearsRequired } from "../../src/planning/years-required.ts";
import { expectAllRelative, expectRelative, referenceRecord } from "../reference/record.ts";

const accrual = referenceRecord("11_sample_size", "ss.accrual").expected;
const COURSE = { accrualYears: 5, followUpYears: 10, lossPerYear: 0.02 };
const INPUT: UnitsRequiredInput = {
  hazardRatio: 0.7,
  exposedShare: 0.5,
  hazardPerYear: -Math.log(0.97) / 10,
  ...COURSE,
};

function answered<Value extends { readonly computed: true }>(answer: Value | NotComputed): Value {
  if (!answer.computed) throw new Error(answer.code);
  return answer;
}

describe("eventShare()", () => {
  it("is the chance of an event with accrual, follow-up and loss (reference: R)", () => {
    const [one, two] = [INPUT.hazardPerYear, 0.7 * INPUT.hazardPerYear];
    expectRelative(one, accrual.hazard1, 1e-12);
    expectRelative(eventShare(one, COURSE), accrual.pEvent1, 1e-10);
    expectRelative(eventShare(two, COURSE), accrual.pEvent2, 1e-10);
    const { accrualYears, followUpYears } = COURSE;
    expectRelative(eventShare(one, { accrualYears, followUpYears }), accrual.pEventNoLoss1, 1e-10);
    expectRelative(eventShare(one, { accrualYears: 0, followUpYears }), accrual.pEventNoAccrual, 1e-10);
  });

  it("is nearly the mean over three times of entry by Simpson's rule (reference: R)", () => {
    const { accrualYears, followUpYears } = COURSE;
    const exact = eventShare(INPUT.hazardPerYear, { accrualYears, followUpYears });
    expect(Math.abs(exact / accrual.pEventSimpson1 - 1)).toBeLessThan(1e-8);
  });

  it("is what summing over single days of entry gives (twin)", () => {
    const [hazard, loss, days] = [0.02, 0.05, 4000];
    const leaving = hazard + loss;
    let sum = 0;
    for (let day = 0; day < days; day += 1) {
      const years = 1 + (4 * (day + 0.5)) / days;
      sum += (hazard / leaving) * (1 - Math.exp(-leaving * years));
    }
    const course = { accrualYears: 4, followUpYears: 1, lossPerYear: loss };
    expect(eventShare(hazard, course)).toBeCloseTo(sum / days, 8);
  });

  it("loses no digits where hazards are tiny (closed form: λ·A/2)", () => {
    for (const hazard of [1e-9, 1e-13]) {
      expectRelative(eventShare(hazard, { accrualYears: 4, followUpYears: 0 }), 2 * hazard, 1e-8);
    }
  });

  it("is continuous where its two forms meet (identity)", () => {
    const share = (leaving: number) => eventShare(leaving, { accrualYears: 1, followUpYears: 0 });
    expectRelative(share(0.5 + 1e-15), share(0.5), 1e-14);
  });

  it.each([
    [0, COURSE],
    [0.01, { ...COURSE, accrualYears: -1 }],
    [0.01, { ...COURSE, lossPerYear: Number.NaN }],
    [0.01, { accrualYears: 0, followUpYears: 0 }],
  ])("refuses hazard %d with %j", (hazard, course) => {
    expect(() => eventShare(hazard, course)).toThrow(ArgumentError);
  });
});

describe("unitsRequired()", () => {
  it("divides the events by the share that has one (reference: R)", () => {
    const answer = answered(unitsRequired(INPUT));
    expectRelative(answer.unrounded, accrual.n, 1e-10);
    expectRelative(answer.events, accrual.events, 1e-10);
    expect(answer.units).toBe(Math.ceil(accrual.n));
    expectAllRelative([...answer.eventShares], [accrual.pEvent2, accrual.pEvent1], 1e-10);
  });

  it("compares constant hazards as Lachin and Foulkes do (reference: R)", () => {
    const answer = answered(unitsRequired({ ...INPUT, method: "hazard-difference" }));
    expectRelative(answer.unrounded, accrual.lachinFoulkesN, 1e-10);
  });

  it("needs as many whichever group is called exposed (identity)", () => {
    for (const method of ["schoenfeld", "freedman", "hazard-difference"] as const) {
      const one = answered(unitsRequired({ ...INPUT, exposedShare: 0.3, method }));
      const other = answered(
        unitsRequired({
          ...INPUT,
          method,
          exposedShare: 0.7,
          hazardRatio: 1 / 0.7,
          hazardPerYear: 0.7 * INPUT.hazardPerYear,
        }),
      );
      expectRelative(one.unrounded, other.unrounded, 1e-11);
    }
  });

  it("multiplies by the variance factor (identity)", () => {
    for (const method of ["freedman", "hazard-difference"] as const) {
      const plain = answered(unitsRequired({ ...INPUT, method })).unrounded;
      const wide = answered(unitsRequired({ ...INPUT, method, varianceFactor: 1.65 })).unrounded;
      expectRelative(wide, 1.65 * plain, 1e-12);
    }
  });

  it("has no answer for a ratio of 1, an empty group or beyond counting", () => {
    expect(unitsRequired({ ...INPUT, hazardRatio: 1 })).toMatchObject({ code: "no-difference" });
    expect(unitsRequired({ ...INPUT, exposedShare: 1 })).toMatchObject({ code: "one-group" });
    expect(unitsRequired({ ...INPUT, hazardPerYear: 1e-320 })).toMatchObject({ code: "out-of-range" });
  });

  it.each([
    { hazardRatio: -1 },
    { hazardPerYear: 0 },
    { exposedShare: 2 },
    { power: 0 },
    { level: 1 },
    { varianceFactor: 0 },
    { followUpYears: Number.POSITIVE_INFINITY },
  ])("refuses %j", (spoilt) => {
    expect(() => unitsRequired({ ...INPUT, ...spoilt })).toThrow(ArgumentError);
  });
});

describe("powerOfEvents()", () => {
  const grid = referenceRecord("11_sample_size", "ss.grid").expected;
  const RATIOS = [0.5, 0.67, 0.75, 1.25, 1.5, 2, 3];
  const powers = (exposedShare: number) =>
    RATIOS.map((hazardRatio) => answered(powerOfEvents({ events: 100, hazardRatio, exposedShare })).power);

  it("gives the power of 100 events (reference: R)", () => {
    expectAllRelative(powers(0.5), grid.power_100events, 1e-10);
    expectAllRelative(powers(0.25), grid.power_100events_p25, 1e-10);
  });

  it("gives the power of 20,000 units with the share expected to have an event (reference: R)", () => {
    const { n, power } = accrual.powerAtN;
    const events = (n * (accrual.pEvent1 + accrual.pEvent2)) / 2;
    expectRelative(
      answered(powerOfEvents({ events, hazardRatio: 0.7, exposedShare: 0.5 })).power,
      power,
      1e-10,
    );
  });

  it("is what eventsRequired() says read backwards, by both methods (identity)", () => {
    for (const method of ["schoenfeld", "freedman"] as const) {
      const input = { hazardRatio: 1.8, exposedShare: 0.3, method, level: 0.01, varianceFactor: 1.4 };
      const { unrounded } = answered(eventsRequired({ ...input, power: 0.85 }));
      expectRelative(answered(powerOfEvents({ ...input, events: unrounded })).power, 0.85, 1e-11);
    }
  });

  it("has no answer without events, without a second group or for a ratio of 1", () => {
    const input = { events: 50, hazardRatio: 2, exposedShare: 0.5 };
    expect(powerOfEvents({ ...input, events: 0 })).toMatchObject({ code: "no-events" });
    expect(powerOfEvents({ ...input, exposedShare: 0 })).toMatchObject({ code: "one-group" });
    expect(powerOfEvents({ ...input, hazardRatio: 1 })).toMatchObject({ code: "no-difference" });
    expect(() => powerOfEvents({ ...input, level: 0.95 })).toThrow(ArgumentError);
    expect(() => powerOfEvents({ ...input, events: Number.NaN })).toThrow(ArgumentError);
  });
});

describe("yearsRequired()", () => {
  const INPUT = { events: 66, unitsPerYear: 300, hazardPerYear: 0.0011, lossPerYear: 0.03 };

  it("finds the year in which the events are expected (identity)", () => {
    const { years, units } = answered(yearsRequired(INPUT));
    const share = eventShare(0.0011, { accrualYears: years, followUpYears: 0, lossPerYear: 0.03 });
    expectRelative(300 * years * share, 66, 1e-10);
    expect(units).toBe(Math.ceil(300 * years));
  });

  it("waits for the square root where hardly anybody leaves (closed form: N·λ·T²/2)", () => {
    const { years } = answered(
      yearsRequired({ events: 10, unitsPerYear: 1000, hazardPerYear: 1e-6, longestYears: 1e4 }),
    );
    expect(Math.abs(years / Math.sqrt((2 * 10) / (1000 * 1e-6)) - 1)).toBeLessThan(1e-4);
  });

  it("never answers with more years than anybody waits, nor without events or volume", () => {
    expect(yearsRequired({ ...INPUT, events: 1e6 })).toMatchObject({ code: "too-long" });
    expect(yearsRequired({ ...INPUT, hazardPerYear: 0 })).toMatchObject({ code: "no-events" });
    expect(yearsRequired({ ...INPUT, unitsPerYear: 0 })).toMatchObject({ code: "no-units" });
    expect(() => yearsRequired({ ...INPUT, events: 0 })).toThrow(ArgumentError);
    expect(() => yearsRequired({ ...INPUT, lossPerYear: -0.1 })).toThrow(ArgumentError);
  });
});
