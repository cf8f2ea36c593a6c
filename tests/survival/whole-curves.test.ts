import { describe, expect, it } from "vitest";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { cumulativeHazard } from "../../src/survival/cumulative-hazard.ts";
import { cumulativeIncidence, eventFreeShare } from "../../src/survival/cumulative-incidence.ts";
import { kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import { expectAllRelative } from "../reference/record.ts";

/** Five knees, small enough to check every number of a record by eye. */
const FIVE = { exit: [1, 2, 2, 3, 5], event: [1, 2, 0, 1, 0], causes: ["revision", "death"] };
const TOO_FEW = { computed: false, code: "group-too-small-to-draw" };
const near = (value: number) => expect.closeTo(value, 12);
const quantile = 1.959963984540054;

describe("the whole record (closed form)", () => {
  const counts = countsByTime(FIVE);

  it("of a curve: other causes count as censored", () => {
    const [curve] = kaplanMeier(counts, { event: ["revision"] }).groups;
    expect(curve).toMatchObject({
      group: "all",
      cases: 5,
      events: 2,
      time: [1, 2, 3, 5],
      atRisk: [5, 4, 2, 1],
      eventsAt: [1, 0, 1, 0],
      censoredAt: [0, 2, 0, 1],
      limits: ["variance", "variance", "variance", "variance"],
      followedTo: 5,
      emptiedAt: null,
      drawnTo: TOO_FEW,
      atYears: [],
    });
    expectAllRelative(curve?.survival ?? [], [0.8, 0.8, 0.4, 0.4], 1e-14);
    const late = 0.4 * Math.sqrt(1 / 20 + 1 / 2);
    expectAllRelative(
      curve?.standardError ?? [],
      [0.8 / Math.sqrt(20), 0.8 / Math.sqrt(20), late, late],
      1e-14,
    );
  });

  it("of an incidence: other causes compete, and the shares add up to 1", () => {
    const { curves } = cumulativeIncidence(counts);
    expect(curves[0]).toMatchObject({
      group: "all",
      cause: "revision",
      cases: 5,
      events: 2,
      time: [1, 2, 3, 5],
      atRisk: [5, 4, 2, 1],
      eventsAt: [1, 0, 1, 0],
      competingAt: [0, 1, 0, 0],
      censoredAt: [0, 1, 0, 1],
      limits: ["variance", "variance", "variance", "variance"],
      followedTo: 5,
      drawnTo: TOO_FEW,
      atYears: [],
    });
    expect(curves[1]).toMatchObject({
      cause: "death",
      events: 1,
      eventsAt: [0, 1, 0, 0],
      competingAt: [1, 0, 1, 0],
    });
    expect(curves[1]?.limits).toEqual(["none seen", "variance", "variance", "variance"]);
    expectAllRelative(curves[0]?.incidence ?? [], [0.2, 0.2, 0.5, 0.5], 1e-14);
    expectAllRelative(curves[1]?.incidence ?? [], [0, 0.2, 0.2, 0.2], 1e-14);
    const { time, share } = eventFreeShare(counts, 0);
    expect(time).toEqual([1, 2, 3, 5]);
    expectAllRelative(share, [0.8, 0.6, 0.3, 0.3], 1e-14);
  });

  it("of a year value: value, spread, limits, those at risk that day and events so far", () => {
    const hundred = Array.from({ length: 100 }, (_, at) => at);
    // Revised: the first on day 300, then ten from day 370 on, so that the next step has other numbers.
    const columns = {
      exit: hundred.map((at) => 300 + 10 * at),
      event: hundred.map((at) => (at === 0 || at % 10 === 7 ? 1 : 0)),
    };
    const standardError = Math.sqrt((0.99 * 0.01) / 100);
    const onDay365 = { computed: true, year: 1, tick: 365, limits: "variance", atRisk: 93, events: 1 };
    const [incidence] = cumulativeIncidence(countsByTime(columns), { years: [1], scale: "linear" }).curves;
    expect(incidence?.atYears).toEqual([
      {
        ...onDay365,
        value: near(0.01),
        standardError: near(standardError),
        lower: 0,
        upper: near(0.01 + quantile * standardError),
      },
    ]);
    const [survival] = kaplanMeier(countsByTime(columns), { years: [1], scale: "linear" }).groups;
    expect(survival?.atYears).toEqual([
      {
        ...onDay365,
        value: near(0.99),
        standardError: near(standardError),
        lower: near(0.99 - quantile * standardError),
        upper: 1,
      },
    ]);
    const early = cumulativeIncidence(countsByTime(columns), { years: [0.5, 5] }).curves[0]?.atYears;
    expect(early?.[0]).toMatchObject({
      value: 0,
      standardError: 0,
      limits: "none seen",
      atRisk: 100,
      events: 0,
    });
    expect(early?.[1]).toMatchObject({ computed: false, code: "beyond-follow-up" });
  });

  it("of a cumulative hazard, also before the first event and where nobody is left", () => {
    const [steps] = cumulativeHazard(countsByTime({ exit: [1, 2, 4], event: [0, 1, 0] }), {
      level: 0.9,
    }).groups;
    const factor = Math.exp(1.6448536269514722);
    expect(steps).toEqual({
      group: "all",
      cases: 3,
      events: 1,
      time: [1, 2, 4],
      atRisk: [3, 2, 1],
      eventsAt: [0, 1, 0],
      hazard: [0, 0.5, 0.5],
      standardError: [0, 0.5, 0.5],
      lower: [0, near(0.5 / factor), near(0.5 / factor)],
      upper: [near(-Math.log(0.05) / 3), near(0.5 * factor), near(0.5 * factor)],
      limits: ["none seen", "variance", "variance"],
      followedTo: 4,
      drawnTo: expect.objectContaining(TOO_FEW),
    });
    // On tick 0 one enters: nobody is at risk yet.
    const late = cumulativeHazard(countsByTime({ entry: [0], exit: [3], event: [0] })).groups[0];
    expect([late?.lower, late?.upper, late?.limits]).toEqual([
      [null, 0],
      [null, near(-Math.log(0.025))],
      ["nobody left", "none seen"],
    ]);
  });
});
