import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Audience } from "../../src/disclosure/audience.ts";
import type { ClearedCurves } from "../../src/disclosure/cleared.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { CurveExhibit, ExhibitCurve } from "../../src/disclosure/exhibit.ts";
import { keyPart } from "../../src/disclosure/key-part.ts";
import { monthTickAtOrAfter, monthTickAtOrBefore, tickOfMonth } from "../../src/disclosure/months.ts";
import { count, countCell, curve, curveExhibit, type Day, table } from "./exhibits.ts";

const DAY = { word: "day", perYear: 365.25 } as const;

function cleared(exhibit: CurveExhibit, audience: Audience = "committee"): ClearedCurves {
  const [first] = disclose([exhibit], audience).exhibits;
  if (first?.kind !== "curves") throw new Error("no curves");
  return first;
}

const texts = (cells: readonly { text: string }[] | undefined) => cells?.map((cell) => cell.text);

/** Events so far at a tick. */
const eventsBy = (of: ExhibitCurve, tick: number) =>
  of.eventsAt.reduce((sum, events, at) => ((of.time[at] ?? 0) <= tick ? sum + events : sum), 0);

/** One event every 20 days, one censored every 50, until day 2000. */
const STEADY = curve(
  "loosening/x",
  900,
  Array.from({ length: 200 }, (_, at): Day => [10 * (at + 1), at % 2, at % 5 === 0 ? 1 : 0]),
);

describe("cleared curves", () => {
  it("give analysts every tick with twelve digits", () => {
    const shown = cleared(curveExhibit([STEADY]), "analyst").curves[0];
    expect(shown?.time).toEqual([0, ...STEADY.time]);
    expect(shown?.value).toEqual([0, ...STEADY.value.map((value) => Number(value.toPrecision(12)))]);
    expect(shown?.drawnTo).toBe(2000);
  });

  it("start at 0 with value 0 and the first real interval, or none", () => {
    const flat = cleared(curveExhibit([STEADY])).curves[0];
    expect([flat?.time[0], flat?.value[0], flat?.low[0], flat?.high[0]]).toEqual([0, 0, 0, 0.01]);
    const atOnce = curve("loosening/x", 900, [
      [0, 20, 0],
      [400, 20, 1],
    ]);
    for (const audience of ["analyst", "committee"] as const) {
      const shown = cleared(curveExhibit([atOnce]), audience).curves[0];
      expect([shown?.time[0], shown?.value[0], shown?.low[0], shown?.high[0]]).toEqual([0, 0, null, null]);
      expect(shown?.time[1]).toBe(0);
      expect(shown?.value[1]).toBeCloseTo(20 / 900, 4);
    }
  });

  it("hold at least the threshold of events in each point, at month ends, four decimals", () => {
    const shown = cleared(curveExhibit([STEADY])).curves[0];
    const rising = (shown?.time ?? []).filter((_tick, at) => shown?.value[at] !== shown?.value[at - 1]);
    const steps = rising.map((tick) => eventsBy(STEADY, tick));
    expect(steps.length).toBeGreaterThan(8);
    for (const [at, events] of steps.entries()) {
      if (at > 0) expect(events - (steps[at - 1] ?? 0)).toBeGreaterThanOrEqual(5);
    }
    for (const tick of shown?.time ?? []) expect(monthTickAtOrAfter(tick, DAY)).toBe(tick);
    for (const value of shown?.value ?? []) expect(Number(value.toFixed(4))).toBe(value);
  });

  it("are exact at years whose events are shown", () => {
    const shown = cleared(curveExhibit([STEADY]));
    for (const tick of [365, 1095, 1826]) {
      const step = shown.curves[0]?.time.findLastIndex((time) => time <= tick) ?? 0;
      const raw = STEADY.time.findLastIndex((time) => time <= tick);
      expect(shown.curves[0]?.value[step]).toBe(Number((STEADY.value[raw] ?? 0).toFixed(4)));
    }
    expect(texts(shown.landmarks[0]?.events)).toEqual(["0", "18", "54", "91"]);
  });

  it("are steps for analysts; for others points, with a vertex at each year told, and one sentence", () => {
    const { drawing, curves, notes } = cleared(curveExhibit([STEADY]));
    expect(drawing).toBe("joined points");
    expect(curves[0]?.time).toEqual(expect.arrayContaining([365, 1095, 1826]));
    expect(notes).toContain(
      "Each dot holds at least 5 revisions; the line and the band between dots are only a guide.",
    );
    const analyst = cleared(curveExhibit([STEADY]), "analyst");
    expect(analyst.drawing).toBe("steps");
    expect(analyst.notes.join(" ")).not.toMatch(/dot/);
  });

  it("stay at 0 up to a year by which nothing had happened", () => {
    const late = curve("loosening/x", 900, [
      [500, 30, 0],
      [1000, 0, 5],
    ]);
    const shown = cleared(curveExhibit([late], { years: [0, 1] })).curves[0];
    expect([shown?.time[1], shown?.value[1]]).toEqual([365, 0]);
    expect(shown?.value[2]).toBeGreaterThan(0);
  });

  it("refuse a key in which a label brings a slash of its own", () => {
    const slashed = { ...STEADY, key: "loosening/lysis/x" };
    expect(() => cleared(curveExhibit([slashed]))).toThrow(/keyPart/);
    const safe = { ...STEADY, key: `${keyPart("loosening/lysis")}/${keyPart("x/y")}` };
    expect(cleared(curveExhibit([safe])).curves).toHaveLength(1);
  });

  it("put what is left at the end into the last point", () => {
    const ending = curve("loosening/x", 900, [
      [100, 6, 0],
      [500, 6, 0],
      [900, 2, 0],
      [1000, 0, 5],
    ]);
    const shown = cleared(curveExhibit([ending], { years: [0] })).curves[0];
    // Ends of months 4, 30 and 32: floor(4 × 30.4375) and so on.
    expect([shown?.time, shown?.drawnTo]).toEqual([[0, 121, 913, 974], 974]);
    expect(shown?.value[3]).toBe(shown?.value[2]);
  });

  it("stop at the last year that may be told where few events follow, and say so", () => {
    const ending = curve("loosening/x", 900, [
      [100, 6, 0],
      [300, 6, 0],
      [900, 2, 0],
      [1000, 0, 5],
    ]);
    const shown = cleared(curveExhibit([ending], { years: [0, 1] }));
    expect(shown.curves[0]?.drawnTo).toBe(365);
    expect(shown.notes.join(" ")).toMatch(/stops at 1\.0 years/);
  });

  it("are not drawn with fewer events than the threshold, and are flat with none", () => {
    const few = cleared(
      curveExhibit([
        curve("loosening/x", 900, [
          [100, 4, 0],
          [900, 0, 5],
        ]),
      ]),
    );
    expect(few.curves).toEqual([]);
    expect(few.notes.join(" ")).toMatch(/too few revisions to draw/);
    const none = cleared(curveExhibit([curve("loosening/x", 900, [[900, 0, 6]])]));
    expect(new Set(none.curves[0]?.value)).toEqual(new Set([0]));
    expect(none.curves[0]?.time.at(-1)).toBe(none.curves[0]?.drawnTo);
  });

  it("become a table outside the unit below five thresholds of events", () => {
    const shown = (events: number) =>
      cleared(
        curveExhibit(
          [
            curve("loosening/x", 900, [
              [100, events, 0],
              [400, 0, 30],
            ]),
          ],
          { years: [0, 1] },
        ),
        "external",
      );
    expect(shown(49).curves).toHaveLength(0);
    expect(texts(shown(49).landmarks[0]?.events)).toEqual(["0", "49"]);
    expect(shown(50).curves).toHaveLength(1);
  });

  it("show nothing after the last tick drawn", () => {
    // The second ends at day 395 by month; one event after year 1 is too few to go there.
    const shown = cleared(
      curveExhibit([
        { ...STEADY, drawnTo: 1100 },
        { ...STEADY, key: "loosening/y", drawnTo: 400 },
      ]),
    );
    expect(shown.years).toEqual([0, 1, 3]);
    expect(shown.curves.map((one) => one.drawnTo)).toEqual([1095, 365]);
    expect(texts(shown.landmarks[1]?.events)).toEqual(["0", "18", "–"]);
  });

  it("leave a group without a last tick out and say so", () => {
    const { drawnTo: _, ...small } = STEADY;
    const shown = cleared(curveExhibit([small]));
    expect([shown.curves, shown.landmarks, shown.years]).toEqual([[], [], []]);
    expect(shown.notes).toContain("loosening/x: the group is too small for a curve.");
  });
});

describe("numbers beneath a curve", () => {
  it("add up to the group: at risk, events, censored", () => {
    const [row] = cleared(curveExhibit([STEADY]), "analyst").landmarks;
    for (const at of [0, 1, 2, 3]) {
      const sum = [row?.atRisk, row?.events, row?.censored].reduce(
        (total, cells) => total + (cells?.[at]?.values[0] ?? 0),
        0,
      );
      expect(sum).toBe(900);
    }
  });

  it("hide events that a year adds to in small number, and give at risk without them", () => {
    const slow = curve("loosening/x", 900, [
      [100, 10, 20],
      [700, 2, 30],
      [1500, 20, 40],
      [1900, 0, 1],
    ]);
    const [row] = cleared(curveExhibit([slow])).landmarks;
    expect(texts(row?.events)).toEqual(["0", "10", "hidden", "32"]);
    expect(texts(row?.censored)).toEqual(["0", "20", "50", "90"]);
    // 900 − 50 − (10 + 2), which is the same whether 1, 2, 3 or 4 events are hidden.
    expect(texts(row?.atRisk)).toEqual(["900", "870", "≈840", "778"]);
    for (const hidden of [1, 3, 4]) {
      const other = curve("loosening/x", 900, [
        [100, 10, 20],
        [700, hidden, 30],
        [1500, 22 - hidden, 40],
        [1900, 0, 1],
      ]);
      expect(cleared(curveExhibit([other])).landmarks).toEqual([row]);
    }
  });

  it("see a net and a crude curve of one group together", () => {
    const days: Day[] = [
      [100, 10, 20, 2],
      [700, 12, 30, 20],
      [1900, 0, 1, 0],
    ];
    const crude = curve("loosening/x", 900, days);
    const net = curve(
      "loosening/x",
      900,
      days.map(([tick, events, censored, died = 0]): Day => [tick, events, censored + died]),
    );
    const shown = disclose(
      [curveExhibit([crude], { id: "crude", risk: "crude" }), curveExhibit([net], { id: "net" })],
      "committee",
    ).exhibits;
    const [crudeRow, netRow] = shown.flatMap((one) => (one.kind === "curves" ? one.landmarks : []));
    // 2 died in year 1: 22 left otherwise, of whom 20 censored, would tell.
    expect(crudeRow?.competing?.[1]?.hidden).toBe(true);
    expect(crudeRow?.censored[1]?.hidden === true || netRow?.censored[1]?.hidden === true).toBe(true);
    expect(texts(crudeRow?.events)).toEqual(["0", "10", "22", "22"]);
  });

  it("keep a count hidden that a table hides, and let no step end near it", () => {
    const loosening = (group: string, units: number) => count(`events/loosening/${group}/to:3`, units);
    const other = table(
      "t",
      [[countCell(loosening("y", 3)), countCell(count("both", 57))]],
      [{ total: count("both", 57), parts: [loosening("x", 54), loosening("y", 3)] }],
    );
    const [, shown] = disclose([other, curveExhibit([STEADY])], "committee").exhibits;
    if (shown?.kind !== "curves") throw new Error("no curves");
    expect(texts(shown.landmarks[0]?.events)).toEqual(["0", "18", "hidden", "91"]);
    for (const tick of shown.curves[0]?.time ?? []) {
      expect(Math.abs(eventsBy(STEADY, tick) - 54)).toBeGreaterThanOrEqual(5);
    }
  });

  it("round at risk to 5 with delayed entry where events are hidden", () => {
    const entering = curve("loosening/x", 900, [
      [100, 3, 20],
      [700, 20, 30],
      [1900, 0, 1],
    ]);
    const late = { ...entering, atRisk: [400, 777, 727] };
    const [row] = cleared(curveExhibit([late])).landmarks;
    expect(texts(row?.events)).toEqual(["0", "hidden", "23", "23"]);
    expect(row?.atRisk[1]?.text).toBe("≈775");
  });
});

describe("cleared curves of any shape", () => {
  const days = fc
    .array(
      fc.tuple(
        fc.integer({ min: 1, max: 60 }),
        fc.integer({ min: 0, max: 4 }),
        fc.integer({ min: 0, max: 6 }),
      ),
      {
        minLength: 1,
        maxLength: 60,
      },
    )
    .map((gaps) => {
      let tick = 0;
      return gaps.map(([gap, events, censored]): Day => {
        tick += gap;
        return [tick, events, censored];
      });
    });

  it("never differ by a small number of events, in steps or years, and never pass the end", () => {
    fc.assert(
      fc.property(days, fc.constantFrom<Audience>("committee", "external"), (leaving, audience) => {
        const raw = curve("loosening/x", 1000, leaving);
        const threshold = audience === "committee" ? 5 : 10;
        const shown = cleared(curveExhibit([raw], { years: [0, 1, 2, 3, 5] }), audience);
        const line = shown.curves[0];
        const byLine =
          line === undefined ? [] : [...line.time, line.drawnTo].map((tick) => eventsBy(raw, tick));
        const byYear = (shown.landmarks[0]?.events ?? []).flatMap((cell) => cell.values);
        const told = [...new Set([0, ...byLine, ...byYear])].sort((a, b) => a - b);
        for (const [at, events] of told.entries()) {
          if (at > 0) expect(events - (told[at - 1] ?? 0)).toBeGreaterThanOrEqual(threshold);
        }
        const left = (shown.landmarks[0]?.censored ?? []).flatMap((cell) => cell.values);
        for (const [at, units] of left.entries()) {
          const more = units - (left[at - 1] ?? 0);
          expect(more === 0 || more >= threshold).toBe(true);
        }
        for (const tick of line?.time ?? []) expect(tick).toBeLessThanOrEqual(line?.drawnTo ?? 0);
        expect(line?.drawnTo ?? 0).toBeLessThanOrEqual(raw.drawnTo ?? 0);
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  it("never give a hidden number of events back by the size of the group", () => {
    fc.assert(
      fc.property(days, (leaving) => {
        const raw = curve("loosening/x", 1000, leaving);
        const [row] = cleared(curveExhibit([raw], { years: [0, 1, 2, 3, 5] })).landmarks;
        for (const [at, atRisk] of (row?.atRisk ?? []).entries()) {
          const beside = [row?.events[at], row?.censored[at]];
          const gaps = beside.filter((cell) => cell?.hidden).length;
          if (gaps !== 1 || atRisk.hidden) continue;
          // At risk next to a lone gap is rounded: a multiple of 5, not the number itself.
          expect((atRisk.values[0] ?? 0) % 5).toBe(0);
        }
      }),
      { seed: 7, numRuns: 300 },
    );
  });
});

describe("months", () => {
  it("end at the last whole tick, so that month 12y ends where year y does", () => {
    for (const year of [1, 3, 5, 10, 15]) expect(tickOfMonth(12 * year, DAY)).toBe(Math.floor(365.25 * year));
  });

  it("enclose every tick", () => {
    for (let tick = 0; tick < 6000; tick++) {
      expect(monthTickAtOrAfter(tick, DAY)).toBeGreaterThanOrEqual(tick);
      expect(monthTickAtOrBefore(tick, DAY)).toBeLessThanOrEqual(tick);
      expect(monthTickAtOrAfter(tick, DAY) - monthTickAtOrBefore(tick, DAY)).toBeLessThanOrEqual(31);
    }
  });

  it("leave follow-up in months and years as it is", () => {
    for (const perYear of [12, 1]) {
      const unit = { word: perYear === 12 ? "month" : "year", perYear } as const;
      for (let tick = 0; tick < 200; tick++) {
        expect([monthTickAtOrBefore(tick, unit), monthTickAtOrAfter(tick, unit)]).toEqual([tick, tick]);
      }
    }
  });
});
