import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { conditionalSurvival } from "../../src/survival/conditional-survival.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import { rowsOf } from "./some-rows.ts";

const rows = {
  ...rowsOf(91, { rows: 300, groups: 2, strata: 1, causes: 1, entries: false }),
  timeUnit: TIME_UNITS.year,
};
const counts = countsByTime(rows);

describe("conditionalSurvival()", () => {
  it("is survival at a later time over survival at the given one", () => {
    const [whole] = kaplanMeier(counts).groups;
    const [later] = conditionalSurvival(counts, { givenYear: 8 }).groups;
    const given = whole?.survival[(whole?.time.filter((tick) => tick <= 8).length ?? 0) - 1] ?? 0;
    expect(later?.time[0]).toBe(9);
    later?.time.forEach((tick, step) => {
      const survival = whole?.survival[whole.time.indexOf(tick)] ?? 0;
      expect(later.survival[step]).toBeCloseTo(survival / given, 12);
    });
  });

  it("equals the curve of those still there, counted as if they had entered then", () => {
    // Twin: rows with exit after year 8 only.
    const keep = rows.exit.flatMap((exit, row) => (exit > 8 ? [row] : []));
    const pick = (values: readonly number[]) => keep.map((row) => values[row] ?? 0);
    const cut = {
      exit: pick(rows.exit),
      event: pick(rows.event),
      group: { ...rows.group, codes: pick(rows.group.codes) },
      timeUnit: rows.timeUnit,
    };
    const [expected] = kaplanMeier(countsByTime(cut)).groups;
    const [actual] = conditionalSurvival(counts, { givenYear: 8 }).groups;
    expect(actual?.survival).toEqual(expected?.survival);
    expect(actual?.standardError).toEqual(expected?.standardError);
    expect(actual?.cases).toBe(expected?.cases);
  });

  it("is the whole curve given year 0, and all who are left in the given year itself", () => {
    const { settings, ...whole } = conditionalSurvival(counts, { givenYear: 0 });
    const { settings: _, ...expected } = kaplanMeier(counts, { from: 0 });
    expect([settings.from, whole]).toEqual([0, expected]);
    const [given] = conditionalSurvival(counts, { givenYear: 3, years: [3] }).groups[0]?.atYears ?? [];
    expect(given).toMatchObject({ computed: true, value: 1, events: 0, limits: "none seen" });
  });

  it("refuses years before the given one and a given year that is none", () => {
    expect(() => conditionalSurvival(counts, { givenYear: 3, years: [2, 5] })).toThrow("received 2");
    for (const givenYear of [Number.NaN, -1]) {
      expect(() => conditionalSurvival(counts, { givenYear })).toThrow("givenYear must not be negative");
    }
  });
});
